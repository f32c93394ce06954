import { resolve } from 'node:path';
import { includeIgnoreFile } from 'eslint/config';
import svelte from 'eslint-plugin-svelte';
import globals from 'globals';
import ts from 'typescript-eslint';
import svelteConfig from './svelte.config.js';

const folders = ['numeric', 'network', 'circuit', 'reflectometer', 'estimate', 'bench', 'files', 'lesson'];
const core = [...folders.map((folder) => `src/lib/${folder}/**/*.ts`), 'src/lib/fault.ts'];

const seeded = 'Chance comes from seeded streams and time from the bench, so that every run can be repeated.';
const surroundings = 'The core runs in a page, in a worker and in Node alike: hand in what it needs.';
const surroundingNames = [
	...['window', 'document', 'navigator', 'location', 'self', 'localStorage', 'sessionStorage', 'indexedDB'],
	...['fetch', 'performance', 'requestAnimationFrame', 'setTimeout', 'setInterval', 'process', 'Buffer']
];

export default ts.config(
	includeIgnoreFile(resolve('.gitignore')),
	ts.configs.strict,
	svelte.configs.recommended,
	{
		languageOptions: { globals: { ...globals.browser, ...globals.node } },
		linterOptions: { reportUnusedDisableDirectives: 'error' },
		rules: {
			'max-lines': ['error', { max: 400, skipBlankLines: false, skipComments: false }],
			eqeqeq: 'error',
			'no-cond-assign': 'error',
			'no-constant-condition': 'error',
			'no-debugger': 'error',
			'no-dupe-else-if': 'error',
			'no-empty': 'error',
			'no-eval': 'error',
			'no-fallthrough': 'error',
			'no-implied-eval': 'error',
			'no-self-assign': 'error',
			'no-self-compare': 'error',
			'no-sparse-arrays': 'error',
			'no-unreachable': 'error',
			'no-unsafe-finally': 'error',
			'no-var': 'error',
			'prefer-const': 'error',
			'@typescript-eslint/consistent-type-imports': 'error',
			// A Float64Array element is a number whenever the index is in range, and `!` says so where a map is sure.
			'@typescript-eslint/no-non-null-assertion': 'off'
		}
	},
	{
		files: ['**/*.svelte', '**/*.svelte.ts'],
		languageOptions: { parserOptions: { parser: ts.parser, svelteConfig } },
		rules: {
			'svelte/no-at-html-tags': 'error',
			// The content security policy blocks a style attribute; `style:` becomes one when a page is prerendered.
			'svelte/no-inline-styles': ['error', { allowTransitions: true }]
		}
	},
	{
		files: ['src/**/*.ts', 'tests/**/*.ts'],
		ignores: ['**/*.svelte.ts'],
		languageOptions: { parserOptions: { projectService: true } },
		rules: {
			'@typescript-eslint/no-floating-promises': 'error',
			'@typescript-eslint/no-misused-promises': 'error',
			'@typescript-eslint/await-thenable': 'error'
		}
	},
	{ files: ['src/lib/**'], rules: { 'no-console': 'error' } },
	{
		files: core,
		rules: {
			'no-restricted-properties': [
				'error',
				{ object: 'Math', property: 'random', message: seeded },
				{ object: 'crypto', property: 'getRandomValues', message: seeded },
				{ object: 'crypto', property: 'randomUUID', message: seeded }
			],
			'no-restricted-globals': [
				'error',
				{ name: 'Date', message: seeded },
				...surroundingNames.map((name) => ({ name, message: surroundings }))
			]
		}
	},
	{
		files: ['**/*.cjs'],
		rules: { 'no-var': 'off', '@typescript-eslint/no-require-imports': 'off' }
	}
);
