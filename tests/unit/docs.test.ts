import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import ts from 'typescript';
import { parse } from 'yaml';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { optionsOf } from '../../src/cli/arguments.ts';
import { commands } from '../../src/cli/commands.ts';
import { run } from '../../src/cli/run.ts';

// Every link, path, command and example of the documents is true.
const root = fileURLToPath(new URL('../..', import.meta.url));
const documents = ['README.md', 'DEVELOPERS.md', 'lessons/README.md'].map((name) => {
	const text = readFileSync(join(root, name), 'utf8');
	const blocks = [...text.matchAll(/^```(\w+)[^\n]*\n([^]*?)^```$/gm)].map(([, language, code]) => ({
		language,
		code
	}));
	return { name, text, prose: text.replace(/^```[^]*?^```$/gm, ''), blocks };
});
const blocksOf = (language: string) =>
	documents.flatMap(({ name, blocks }) =>
		blocks
			.filter((block) => block.language === language)
			.map(({ code }, i) => ({ title: `${name}, ${language} ${i + 1}`, code }))
	);

test('every document has text and examples', () => {
	expect(documents.filter(({ prose, blocks }) => prose.length < 1000 || blocks.length === 0)).toEqual([]);
});

test('every relative link leads to a file', () => {
	const links = documents.flatMap(({ name, prose }) =>
		[...prose.replace(/`[^`\n]*`/g, '').matchAll(/\]\(([^)\s]+)\)/g)].map(([, to]) => ({ name, to }))
	);
	expect(links.length).toBeGreaterThan(5);
	const dead = links.filter(
		({ name, to }) => !/^\w+:/.test(to) && !existsSync(join(root, dirname(name), to.replace(/#.*$/, '')))
	);
	expect(dead).toEqual([]);
});

test('every file and folder named in the text is there', () => {
	const named = documents.flatMap(({ prose }) =>
		[...prose.matchAll(/`((?:src|tests|lessons|scripts|static|docs)\/[^`\s]*)`/g)].map(([, path]) => path)
	);
	expect(named.length).toBeGreaterThan(30);
	const concrete = named.filter((path) => !/[*…]|NN/.test(path));
	expect(concrete.filter((path) => !existsSync(join(root, path)))).toEqual([]);
});

interface Package {
	readonly scripts: Readonly<Record<string, string>>;
}
const { scripts } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as Package;
const everything = documents.map(({ text }) => text).join('\n');

test('every npm command named is in package.json', () => {
	const named = [...everything.matchAll(/\bnpm (?:run ([\w:]+)|(start|test)\b)/g)].map(([, a, b]) => a ?? b);
	expect(named.length).toBeGreaterThan(10);
	expect(named.filter((name) => !Object.hasOwn(scripts, name))).toEqual([]);
});

test('every check named is one that scripts/test.js knows', () => {
	const source = readFileSync(join(root, 'scripts/test.js'), 'utf8');
	const named = [...everything.matchAll(/node scripts\/test\.js ([a-z-]+)/g)].map(([, name]) => name);
	expect(named.length).toBeGreaterThan(5);
	const table = /const checks = \{([^]*?)\n\};/.exec(source)?.[1] ?? '';
	expect(named.filter((name) => !new RegExp(`^\\t'?${name}'?[:,]?`, 'm').test(table))).toEqual([]);
});

test('every command of the command line and every option named is known', () => {
	const named = [...everything.matchAll(/npx --no faint-echo ([^`\n]+)/g)].map(([, line]) => line.split(' '));
	expect(named.length).toBeGreaterThan(6);
	const unknown = named.filter(([name, ...rest]) => {
		const command = commands.find((candidate) => candidate.name === name);
		if (command === undefined) return !['help', '--version', '…'].includes(name);
		const known = optionsOf(command).map((option) => `--${option.name}`);
		return rest.some((word) => word.startsWith('--') && !known.includes(word.replace(/[;,.]$/, '')));
	});
	expect(unknown).toEqual([]);
});

/** What a line or a whole output should be: `…` stands for anything. */
const pattern = (shown: string): RegExp => {
	const escaped = shown.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');
	return new RegExp(`^${escaped.replace(/…\n?/g, '[^]*')}$`);
};

const sessions = blocksOf('console').flatMap(({ title, code }) =>
	code
		.split(/^\$ /m)
		.slice(1)
		.map((session) => {
			const [line, ...shown] = session.split('\n');
			return { title: `${title}: ${line}`, line, shown: shown.join('\n') };
		})
);

test('there are worked examples', () => expect(sessions.length).toBeGreaterThan(3));

test.each(sessions)(
	'$title',
	async ({ line, shown }) => {
		const [npx, no, program, ...words] = line.split(' ');
		expect([npx, no, program]).toEqual(['npx', '--no', 'faint-echo']);
		const folder = mkdtempSync(join(tmpdir(), 'faint-echo-'));
		try {
			const out = words.indexOf('--out') + 1;
			// files are read from the project folder and written to one that goes again
			const typed = words.map((word, i) => {
				if (out > 0 && i === out) return join(folder, word);
				return existsSync(join(root, word)) ? relative(process.cwd(), join(root, word)) : word;
			});
			const written: string[] = [];
			const keep = (text: string) => void written.push(`${text}\n`);
			expect(await run(typed, { print: keep, note: keep })).toBe(0);
			expect(written.join('').replaceAll(folder + '/', '')).toMatch(pattern(shown));
		} finally {
			rmSync(folder, { recursive: true });
		}
	},
	60_000
);

const yaml = blocksOf('yaml');
test.each(yaml)('$title can be read as YAML', ({ code }) => {
	expect(parse(code, { uniqueKeys: true })).toBeTypeOf('object');
});

const examples = blocksOf('ts');
const folder = join(root, 'test-results', 'examples');
const fileOf = (i: number) => join(folder, `example-${i}.ts`);
beforeAll(() => {
	mkdirSync(folder, { recursive: true });
	examples.forEach(({ code }, i) => writeFileSync(fileOf(i), code));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

test('there are code examples', () => expect(examples.length).toBeGreaterThan(2));

test.each(examples.map((example, i) => ({ ...example, i })))('$title runs and prints', async ({ i }) => {
	const log = vi.spyOn(console, 'log').mockImplementation(() => undefined);
	try {
		await import(/* @vite-ignore */ pathToFileURL(fileOf(i)).href);
		expect(log).toHaveBeenCalled();
		expect(log.mock.calls.flat().filter((value) => value === undefined || Number.isNaN(value))).toEqual([]);
	} finally {
		log.mockRestore();
	}
});

test('the types of the code examples are right', () => {
	const files = examples.map((_, i) => fileOf(i));
	const program = ts.createProgram(files, {
		noEmit: true,
		strict: true,
		skipLibCheck: true,
		allowImportingTsExtensions: true,
		verbatimModuleSyntax: true,
		types: ['node'],
		target: ts.ScriptTarget.ES2022,
		lib: ['lib.es2023.d.ts', 'lib.dom.d.ts'],
		module: ts.ModuleKind.ESNext,
		moduleResolution: ts.ModuleResolutionKind.Bundler
	});
	const found = files.flatMap((file) => {
		const source = program.getSourceFile(file);
		return [...program.getSyntacticDiagnostics(source), ...program.getSemanticDiagnostics(source)];
	});
	expect(found.map(({ messageText }) => ts.flattenDiagnosticMessageText(messageText, ' '))).toEqual([]);
}, 60_000);
