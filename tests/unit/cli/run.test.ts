import { execFile } from 'node:child_process';
import { existsSync, mkdirSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { expect, test } from 'vitest';
import { commands } from '../../../src/cli/commands.ts';
import about from '../../../package.json';
import { folderWith, MAST, perform } from './terminal.ts';

test.each([['help'], ['--help']])('%s names every command on the standard output', async (word) => {
	const { code, printed, noted } = await perform(word);
	expect([code, noted]).toEqual([0, '']);
	for (const { name, summary } of commands) expect(printed).toMatch(new RegExp(`${name} .*${summary}`));
	expect(printed).toContain('Exit codes: 0');
});

test('without a command the help goes beside the results', async () => {
	const { code, printed, noted } = await perform();
	expect([code, printed]).toEqual([2, '']);
	expect(noted).toContain('Usage: faint-echo COMMAND');
});

test.each(commands.map(({ name }) => name))('%s explains itself and each of its options', async (name) => {
	const { code, printed } = await perform(name, '--help');
	expect(code).toBe(0);
	for (const option of commands.find((c) => c.name === name)?.options ?? [])
		expect(printed).toContain(`--${option.name}`);
	expect(printed).toContain('--json');
	expect(await perform('help', name)).toEqual({ code, printed, noted: '' });
});

test('--version prints the version of the package', async () => {
	expect(await perform('--version')).toEqual({ code: 0, printed: about.version, noted: '' });
});

test.each([
	[['sweeep', 'x'], 'There is no command "sweeep". Did you mean "sweep"?'],
	[['help', 'trut'], 'There is no command "trut". Did you mean "truth"?'],
	[['sweep', 'x', '--sweps', '3'], 'There is no option "--sweps". Did you mean "--sweeps"?'],
	[['sweep', 'x', '-o', 'y'], 'There is no option "-o".'],
	[['truth', 'x', '--seed', '3'], 'There is no option "--seed".'],
	[['sweep', 'x', '--seed'], 'Give it a value: --seed S.'],
	[['sweep', 'x', '--out', '--json'], 'Give it a value: --out FILE.'],
	[['sweep', 'x', '--out='], 'Give it a value: --out FILE.'],
	[['sweep', 'x', '--json=yes'], 'It is a switch: write --json alone.'],
	[['sweep', 'x', '--seed', '1', '--seed', '2'], 'It is given twice.'],
	[['sweep'], 'No file is named. Name it: faint-echo sweep BENCH.'],
	[['correct', 'a', 'b'], 'There are 2 file names, "b" among them.'],
	[['sweep', ''], 'The name is empty.'],
	[['truth', 'there/is/none.s1p'], 'There is no such file.']
])('%j is refused with a remedy', async (typed, words) => {
	const { code, printed, noted } = await perform(...typed);
	expect(code).toBe(2);
	expect(noted).toContain(words);
	expect(printed === '' || typed.includes('--json')).toBe(true);
});

test('with --json a complaint is an object too', async () => {
	const { code, printed, noted } = await perform('truth', '--json', 'there/is/none.s1p');
	expect(code).toBe(2);
	expect(JSON.parse(printed)).toEqual({
		errors: [
			{
				code: 'file-missing',
				place: 'there/is/none.s1p',
				finding: 'There is no such file.',
				remedy: 'Check the path; it is taken from the folder the command is run in.'
			}
		]
	});
	expect(noted).toContain('There is no such file.');
});

test('a folder is not a file, and what is after -- is always a file', async () => {
	const inside = folderWith();
	mkdirSync(inside('a.s1p'));
	expect((await perform('truth', inside('a.s1p'))).noted).toContain('This is not a file but a folder');
	expect((await perform('truth', '--', '--json')).noted).toContain('--json: There is no such file.');
});

test('a file beyond the limit is refused before it is read', async () => {
	const inside = folderWith();
	writeFileSync(inside('large.s1p'), Buffer.alloc(64 * 1024 * 1024 + 1));
	const { code, noted } = await perform('truth', inside('large.s1p'));
	expect(code).toBe(2);
	expect(noted).toContain('The file holds 67108865 bytes. At most 67108864 are read.');
});

test('control characters in a file do not reach the terminal', async () => {
	const inside = folderWith({ 'evil.s1p': '# MHz S RI R 50\n1 \u001b[31mred 0\n' });
	const { code, noted } = await perform('truth', inside('evil.s1p'));
	expect(code).toBe(2);
	expect([...noted].every((c) => c === '\n' || c >= ' ')).toBe(true);
});

const built = fileURLToPath(new URL('../../../dist/cli/faint-echo.js', import.meta.url));

// `npm test` builds the command line before this runs; alone, vitest may find none
test.runIf(existsSync(built))('the built program prints the same and ends with the same codes', async () => {
	const start = promisify(execFile);
	const { stdout, stderr } = await start(process.execPath, [built, 'truth', MAST], { maxBuffer: 1e8 });
	expect([stdout.trimEnd(), stderr]).toEqual([(await perform('truth', MAST)).printed, '']);
	const refused = start(process.execPath, [built, 'truth', 'none.s1p']);
	await expect(refused).rejects.toMatchObject({ code: 2, stdout: '' });
});
