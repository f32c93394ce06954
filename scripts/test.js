/**
 * `npm test`: sets up, then runs every check in turn; `node scripts/test.js NAME…` runs only those named.
 * A lint, a type check or a build counts as one; the last line is the sum over all.
 */
import { rmSync } from 'node:fs';
import { findBrowser } from './browser.js';
import { buildCommandLine } from './build.js';
import { countPlaywright, countVitest } from './count.js';
import { installPackages } from './packages.js';
import { note, run, SetUpError, testBuild } from './project.js';

const one = (endedWell) => ({ passed: endedWell ? 1 : 0, failed: endedWell ? 0 : 1 });

function unit() {
	const report = note('vitest.json');
	rmSync(report, { force: true });
	const endedWell = run('vitest', [
		'run',
		'--reporter=default',
		'--reporter=json',
		`--outputFile.json=${report}`
	]);
	return countVitest(report, endedWell);
}

async function browser() {
	await findBrowser();
	const report = note('playwright.json');
	rmSync(report, { force: true });
	const endedWell = run('playwright', ['test', '--reporter=list,json'], {
		PLAYWRIGHT_JSON_OUTPUT_FILE: report
	});
	return countPlaywright(report, endedWell);
}

function commandLine() {
	buildCommandLine();
	return one(true);
}

const checks = {
	format: () => one(run('prettier', ['--check', '.'])),
	lint: () => one(run('eslint', ['.', '--max-warnings=0'])),
	layers: () => one(run('depcruise', ['src', '--config', '.dependency-cruiser.cjs'])),
	unused: () => one(run('knip', [])),
	types: () => one(run('svelte-kit', ['sync']) && run('svelte-check', ['--fail-on-warnings'])),
	'command-line': commandLine,
	unit,
	build: () => one(run('vite', ['build', '--logLevel', 'warn'], testBuild)),
	browser
};

async function runOne(name, check) {
	console.log(`\n── ${name} ──`);
	try {
		return await check();
	} catch (error) {
		console.error(error instanceof SetUpError ? error.message : error);
		return one(false);
	}
}

const names = process.argv.length > 2 ? process.argv.slice(2) : Object.keys(checks);
const unknown = names.filter((name) => !Object.hasOwn(checks, name));
const results = [];
if (unknown.length > 0) {
	console.error(`No check is called ${unknown.join(', ')}; there are ${Object.keys(checks).join(', ')}.`);
	results.push({ name: 'arguments', passed: 0, failed: 1 });
} else {
	const ready = await runOne('set-up', () => (installPackages(), one(true)));
	if (ready.failed > 0) results.push({ name: 'set-up', ...ready });
	else for (const name of names) results.push({ name, ...(await runOne(name, checks[name])) });
}

console.log('\n── result ──');
for (const { name, passed, failed } of results)
	console.log(`${failed > 0 ? '✗' : '✓'} ${name}: ${passed} of ${passed + failed}`);
const sum = (key) => results.reduce((total, result) => total + result[key], 0);
process.exitCode = sum('failed') > 0 ? 1 : 0;
console.log(`${sum('passed')} passed, ${sum('failed')} failed`);
