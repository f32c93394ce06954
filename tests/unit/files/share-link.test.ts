import { deflateRawSync } from 'node:zlib';
import { expect, test } from 'vitest';
import { Fault } from '#lib/fault.ts';
import { execute } from '#lib/bench/command.ts';
import { commands } from '#lib/bench/commands.ts';
import { defaultBench } from '#lib/bench/default-bench.ts';
import { withDamage, withReplacement, withSweeps } from '#lib/bench/history.ts';
import { BenchSession } from '#lib/bench/session.ts';
import { benchData } from '#lib/files/bench-file.ts';
import { isLink, readLink, writeLink } from '#lib/files/share-link.ts';

/** A link around any text, made by another implementation of the same standards (RFC 1951, RFC 4648 section 5). */
const linkOf = (text: string | Buffer): string => `bench=1.${deflateRawSync(text).toString('base64url')}`;
const json = JSON.stringify(benchData(defaultBench));

test('a link gives back the bench, but for the log of sweeps', async () => {
	const link = await writeLink(defaultBench);
	expect(link).toMatch(/^bench=1\.[A-Za-z0-9_-]+$/);
	expect(link.length).toBeLessThan(6000);
	expect(isLink(link)).toBe(true);
	expect(isLink(`#${link}`)).toBe(true);
	expect(await readLink(link)).toEqual(defaultBench);
	expect(await readLink(`#${link}`)).toEqual(defaultBench);
	const { setup, history } = defaultBench;
	const used = { setup, history: withSweeps(history, setup, 640) };
	const read = await readLink(await writeLink(used));
	expect(read.setup).toEqual(setup);
	expect(read.history).toEqual({ ...used.history, events: history.events });
	expect(new BenchSession(read).picture()).toEqual(new BenchSession(used).picture());
});

test('a link tells what is broken and what was mended', async () => {
	const harm = {
		part: 'device',
		name: defaultBench.setup.device.name,
		element: 'Q1',
		crossed: { quantity: 'input power' as const, limit: 5, reached: 9.8 },
		frequency: 169.4e6,
		cause: 'source' as const
	};
	const mended = withReplacement(withDamage(defaultBench.history, harm), 'device');
	const broken = {
		...defaultBench,
		history: withDamage(mended, { ...harm, crossed: { ...harm.crossed, reached: 7 } })
	};
	expect(await readLink(await writeLink(broken))).toEqual(broken);
});

test('a link made elsewhere by the same standards is read', async () => {
	expect(await readLink(linkOf(json))).toEqual(defaultBench);
});

test('what is no link is not taken for one', () => {
	for (const fragment of ['', '#', '#lesson=2', 'Bench=1.x', '#/bench=1.x'])
		expect(isLink(fragment)).toBe(false);
});

async function refusal(link: string): Promise<Fault> {
	try {
		await readLink(link);
	} catch (fault) {
		if (fault instanceof Fault) return fault;
		throw fault;
	}
	return expect.unreachable();
}

test('a link cut off anywhere is refused, never half read', async () => {
	const link = await writeLink(defaultBench);
	for (let length = 0; length < link.length; length += 41)
		expect((await refusal(link.slice(0, length))).code).toMatch(/^(link-damaged|bench-.*)$/);
	expect((await refusal(link.slice(0, -1))).code).toMatch(/^(link-damaged|bench-.*)$/);
});

test('a link with one character changed is refused, or is still a valid bench', async () => {
	const link = await writeLink(defaultBench);
	let refused = 0;
	for (let at = 8; at < link.length; at += 29) {
		const other = link[at] === 'A' ? 'B' : 'A';
		try {
			const { setup } = await readLink(link.slice(0, at) + other + link.slice(at + 1));
			expect(setup.parts.length).toBeLessThanOrEqual(12);
		} catch (fault) {
			expect(fault).toBeInstanceOf(Fault);
			refused += 1;
		}
	}
	expect(refused).toBeGreaterThan(60);
});

test.each([
	['nothing behind the dot', 'bench=1.', 'link-damaged', /unfold/],
	['no version', 'bench=abc', 'link-damaged', /bench=1\./],
	['characters that do not belong', 'bench=1.ab+/c=', 'link-damaged', /bench=1\./],
	['version 2', 'bench=2.abc', 'link-version', /\(2\); this program reads 1/],
	['no text', linkOf(Buffer.from([0xff, 0xfe, 0xfd])), 'link-damaged', /unfold/],
	['a bomb', linkOf(' '.repeat(200_000_000)), 'link-damaged', /far more than a bench/],
	['deep nesting', linkOf('['.repeat(500_000)), 'link-damaged', /no bench/],
	['another kind of data', linkOf('{"a": 1}'), 'bench-kind', /share link/],
	[
		'a later bench',
		linkOf(json.replace('"faint echo bench":1', '"faint echo bench":2')),
		'bench-version',
		/share link/
	],
	['a level out of range', linkOf(json.replace('-20 dBm', '99 dBm')), 'bench-value', /setup\.source\.level/],
	[
		'a key of the prototype',
		linkOf(json.replace('"setup":{', '"setup":{"__proto__":{"seed":1},')),
		'bench-value',
		/__proto__/
	],
	['one at the top', linkOf(json.replace('{', '{"__proto__":{"a":1},')), 'bench-value', /__proto__/]
])('%s is refused', async (_, link, code, words) => {
	const fault = await refusal(link);
	expect(fault.code).toBe(code);
	expect(fault.message).toMatch(words);
	expect(Object.hasOwn(Object.prototype, 'seed') || Object.hasOwn(Object.prototype, 'a')).toBe(false);
});

test('a bench too large for a link is refused, and the bench file offered', async () => {
	const count = 2000;
	const data = {
		ports: 1,
		frequencies: Array.from({ length: count }, (_, i) => 1e8 + i * 1e5),
		s: Array.from({ length: 2 * count }, (_, i) => Math.sin(i) / 2)
	};
	const device = {
		kind: 'tabulated',
		name: 'Mine',
		origin: 'mine.s1p',
		data,
		ceiling: null,
		compression: null,
		absoluteMaximum: null
	};
	const { document } = execute(defaultBench, { name: 'import device', arguments: { device } }, commands);
	await expect(writeLink(document)).rejects.toThrow(/at most 6000.*bench file/);
});
