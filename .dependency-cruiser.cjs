/**
 * The one-way rule of the house: a folder of src/lib imports itself and the folders before it, never one after.
 * `worker`, `view`, `src/cli` and `src/routes` sit on top of all of these.
 */
const order = [
	'numeric',
	'network',
	'circuit',
	'reflectometer',
	'estimate',
	'bench',
	'files',
	'lesson',
	'worker'
];
const core = order.slice(0, order.indexOf('worker')).join('|');

/** Packages the core may use: they need neither a page nor Node. */
const pure = ['zod', 'yaml', 'immer', 'mathjs', 'marked', 'temml'].join('|');

const oneWay = order.map((folder, place) => ({
	name: `${folder}-looks-down-only`,
	comment: `src/lib/${folder} may import ${[...order.slice(0, place), 'itself', 'src/lib/fault.ts'].join(', ')}.`,
	severity: 'error',
	from: { path: `^src/lib/${folder}/` },
	to: { path: '^src/', pathNot: `^src/lib/((${order.slice(0, place + 1).join('|')})/|fault\\.ts$)` }
}));

module.exports = {
	forbidden: [
		...oneWay,
		{
			name: 'core-is-pure',
			comment:
				'The core runs anywhere: no Svelte, no page, no Node. Only these packages: ' +
				pure.replaceAll('|', ', '),
			severity: 'error',
			from: { path: `^src/lib/(${core}|fault\\.ts$)` },
			to: {
				dependencyTypesNot: ['local', 'aliased', 'aliased-subpath-import'],
				pathNot: `(^|/)node_modules/(${pure})/`
			}
		},
		{
			name: 'fault-stands-alone',
			comment: 'src/lib/fault.ts is used by every folder, so it uses none.',
			severity: 'error',
			from: { path: '^src/lib/fault\\.ts$' },
			to: {}
		},
		{
			name: 'view-below-routes',
			comment: 'Pictures know neither the pages they stand on nor the command line.',
			severity: 'error',
			from: { path: '^src/lib/view/' },
			to: { path: '^src/(routes|cli)/' }
		},
		{
			name: 'command-line-without-pictures',
			comment: 'The command line uses the core and the worker only.',
			severity: 'error',
			from: { path: '^src/cli/' },
			to: { path: '^src/(routes|lib/view)/|(^|/)node_modules/svelte/' }
		},
		{
			name: 'pages-without-command-line',
			comment: 'Pages do not use the command line.',
			severity: 'error',
			from: { path: '^src/(routes|hooks)' },
			to: { path: '^src/cli/' }
		},
		{
			name: 'no-cycle',
			comment: 'Two files that need each other are one subject, or one of them stands in the wrong folder.',
			severity: 'error',
			from: {},
			to: { circular: true }
		},
		{
			name: 'resolvable',
			comment: 'An import must lead somewhere. ($app/… is made by kit.)',
			severity: 'error',
			from: {},
			to: { couldNotResolve: true, pathNot: '^\\$app/|^\\./\\$types|^virtual:' }
		}
	],
	options: {
		doNotFollow: { path: 'node_modules' },
		tsConfig: { fileName: 'tsconfig.json' },
		tsPreCompilationDeps: true,
		enhancedResolveOptions: {
			exportsFields: ['exports'],
			conditionNames: ['svelte', 'import', 'browser', 'default', 'types'],
			extensions: ['.ts', '.js', '.svelte', '.json']
		}
	}
};
