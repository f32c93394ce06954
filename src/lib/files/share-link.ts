import type { BenchDocument } from '#lib/bench/command.ts';
import { faults } from '#lib/bench/faults.ts';
import { EMPTY_HISTORY } from '#lib/bench/history.ts';
import type { History } from '#lib/bench/history.ts';
import { Fault } from '#lib/fault.ts';
import { benchData, readBench } from './bench-file.ts';

/**
 * A bench as the part of an address behind the #: `bench=1.` and the bench file's data as JSON, deflated, in base64url.
 * The platform's own compression is used; nothing is sent anywhere.
 */
const LINK_VERSION = '1';
const LONGEST_LINK = 6000;
/** A link must not unfold into more than this, bytes. */
const LARGEST = 2_000_000;
const DEEPEST = 2000;

/** What a reading needs travels: calibrations, damage and repairs, the counters; not the log of every run. */
const slim = (history: History): History => ({
	...history,
	events: history.events.filter((e) => e.kind !== 'sweeps')
});

/** @throws Fault `link-long` when the bench does not fit (an imported device, say). */
export async function writeLink(document: BenchDocument): Promise<string> {
	const json = JSON.stringify(benchData({ setup: document.setup, history: slim(document.history) }));
	const packed = await through(new TextEncoder().encode(json), new CompressionStream('deflate-raw'));
	const text = `bench=${LINK_VERSION}.${toBase64Url(packed)}`;
	if (text.length > LONGEST_LINK) throw faults['link-long']({ found: text.length, allowed: LONGEST_LINK });
	return text;
}

/** Whether the part behind the # claims to be a bench. */
export const isLink = (fragment: string): boolean => fragment.replace(/^#/, '').startsWith('bench=');

/** @throws Fault `link-damaged`, `link-version`, or what the bench file reader refuses. */
export async function readLink(fragment: string): Promise<BenchDocument> {
	const match = /^#?bench=([0-9]{1,6})\.([A-Za-z0-9_-]*)$/.exec(fragment.trim());
	if (!match) throw faults['link-damaged']({ problem: 'it is not of the form bench=1.…' });
	if (match[1] !== LINK_VERSION) throw faults['link-version']({ found: match[1], allowed: LINK_VERSION });
	let json: string;
	try {
		const bytes = await through(fromBase64Url(match[2]), new DecompressionStream('deflate-raw'));
		json = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
	} catch (error) {
		if (error instanceof Fault) throw error;
		throw faults['link-damaged']({ problem: 'it does not unfold; a piece is missing or changed' });
	}
	if (isDeep(json)) throw faults['link-damaged']({ problem: 'it unfolds into no bench' });
	const document = readBench(json, 'share link');
	return { ...document, history: document.history ?? EMPTY_HISTORY };
}

/** Brackets within brackets that no bench has, and that would keep the reader busy for seconds. */
function isDeep(json: string): boolean {
	let depth = 0;
	for (const character of json) {
		if (character === '[' || character === '{') depth += 1;
		if (character === ']' || character === '}') depth -= 1;
		if (depth > DEEPEST) return true;
	}
	return false;
}

async function through(
	bytes: Uint8Array<ArrayBuffer>,
	stream: GenericTransformStream
): Promise<Uint8Array<ArrayBuffer>> {
	const reader = (new Blob([bytes]).stream().pipeThrough(stream) as ReadableStream<Uint8Array>).getReader();
	const chunks: Uint8Array[] = [];
	let size = 0;
	for (;;) {
		const { done, value } = await reader.read();
		if (done) break;
		size += value.length;
		if (size > LARGEST) {
			await reader.cancel();
			throw faults['link-damaged']({ problem: 'it unfolds into far more than a bench' });
		}
		chunks.push(value);
	}
	const whole = new Uint8Array(size);
	let offset = 0;
	for (const chunk of chunks) {
		whole.set(chunk, offset);
		offset += chunk.length;
	}
	return whole;
}

function toBase64Url(bytes: Uint8Array): string {
	let binary = '';
	for (const byte of bytes) binary += String.fromCharCode(byte);
	return btoa(binary).replace(/\+/g, '-').replace(/\//g, '_').replace(/=+$/, '');
}

function fromBase64Url(text: string): Uint8Array<ArrayBuffer> {
	const binary = atob(text.replace(/-/g, '+').replace(/_/g, '/'));
	return Uint8Array.from(binary, (c) => c.charCodeAt(0));
}
