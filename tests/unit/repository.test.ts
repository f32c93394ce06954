import { readdirSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { Fault } from '#lib/fault.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));

/** What `.gitignore` leaves out, and git's own folder; read from there, so that no git is needed to run the tests. */
const left = new Set([
	'.git',
	...readFileSync(join(root, '.gitignore'), 'utf8')
		.split('\n')
		.map((line) => line.replace(/\/$/, ''))
]);

function filesIn(folder: string): string[] {
	return readdirSync(folder, { withFileTypes: true })
		.filter((entry) => !left.has(entry.name) && !entry.name.endsWith('.log'))
		.flatMap((entry) => {
			const path = join(folder, entry.name);
			return entry.isDirectory() ? filesIn(path) : [path];
		});
}

const texts = filesIn(root)
	.map((path) => ({ path: relative(root, path), text: readFileSync(path, 'utf8') }))
	.filter(({ text }) => !text.includes('\0'));

function placesOf(pattern: RegExp): string[] {
	return texts.flatMap(({ path, text }) => {
		const lines = text.split('\n');
		return lines.flatMap((line, i) => (pattern.test(line) ? [`${path}:${i + 1}`] : []));
	});
}

test('the walk over the repository finds its files', () => {
	expect(texts.map(({ path }) => path)).toEqual(
		expect.arrayContaining(['package.json', join('src', 'lib', 'fault.ts')])
	);
});

test('no file names a path of the machine it was written on', () => {
	const folders = ['home', 'root', 'farm', 'work', 'mnt', 'srv', 'tmp', 'Users'].join('|');
	expect(placesOf(new RegExp(`(^|[\\s"'\`(=:])(file://)?/(${folders})/[\\w.]`))).toEqual([]);
	expect(placesOf(/\b[A-Z]:\\+Users\\/)).toEqual([]);
});

test('no file names a package registry', () => {
	const hosts = [
		'registry\\.[a-z]',
		'npm' + 'js\\.(org|com)',
		'deb\\.' + 'debian',
		'yarn' + 'pkg',
		'_auth' + 'Token'
	];
	expect(placesOf(new RegExp(hosts.join('|')))).toEqual([]);
});

test('the lock file holds checksums but no download addresses', () => {
	const lock = JSON.parse(readFileSync(join(root, 'package-lock.json'), 'utf8')) as {
		packages: Record<string, { resolved?: string; integrity?: string }>;
	};
	const packages = Object.entries(lock.packages).filter(([name]) => name !== '');
	expect(packages.length).toBeGreaterThan(100);
	expect(packages.filter(([, { resolved }]) => resolved !== undefined)).toEqual([]);
	expect(packages.filter(([, { integrity }]) => integrity === undefined)).toEqual([]);
});

const tables = import.meta.glob<Record<string, unknown>>('../../src/lib/**/faults.ts', { eager: true });

const faults = Object.entries(tables).flatMap(([file, module]) =>
	Object.values(module)
		.filter((value) => typeof value === 'object' && value !== null)
		.flatMap((table) => Object.values(table as Record<string, () => unknown>))
		.map((make) => ({ file, fault: make() }))
);

test('every table of faults makes faults', () => {
	const empty = Object.keys(tables).filter((file) => !faults.some((entry) => entry.file === file));
	expect(empty).toEqual([]);
	expect(faults.filter(({ fault }) => !(fault instanceof Fault))).toEqual([]);
});

test('no two faults share a code', () => {
	const codes = faults.map(({ fault }) => (fault as Fault).code);
	expect(codes.filter((code, i) => codes.indexOf(code) !== i)).toEqual([]);
});

test('finding and remedy of every fault are whole sentences, or end in a blank that holds one', () => {
	const loose = faults.filter(({ fault }) => {
		const { finding, remedy } = fault as Fault;
		return !/[.}]$/.test(finding) || !/[.}]$/.test(remedy);
	});
	expect(loose.map(({ file, fault }) => `${file}: ${(fault as Fault).code}`)).toEqual([]);
});
