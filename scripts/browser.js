/**
 * Finds a Chromium for the browser tests and proves it by opening a page in it; installs one if there is none:
 * from Debian's packages when run as root on Debian, otherwise by Playwright's own download.
 */
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { note, run, SetUpError } from './project.js';

/**
 * SwiftShader draws WebGL by software, on a machine without a graphics card too. The page itself is left to the browser's
 * ordinary software drawing: with `--use-angle=swiftshader` it would be drawn through WebGL's emulation as well, four
 * times slower, and a budget measured there would say nothing about anyone's browser.
 */
export const browserArguments = [
	'--no-sandbox',
	'--enable-unsafe-swiftshader',
	'--disable-background-networking'
];

const commands = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable', 'chrome'];
const elsewhere = [
	'/Applications/Chromium.app/Contents/MacOS/Chromium',
	'/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
	'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
	'C:\\Program Files (x86)\\Google\\Chrome\\Application\\chrome.exe'
];

function candidates(playwright) {
	const folders = (process.env.PATH ?? '').split(delimiter).filter(Boolean);
	return [
		...commands.flatMap((command) => folders.map((folder) => join(folder, command))),
		...elsewhere,
		playwright.chromium.executablePath()
	].filter((path) => existsSync(path));
}

/** Undefined if the browser opened a page, otherwise why it did not. */
async function fault(playwright, executablePath) {
	try {
		const browser = await playwright.chromium.launch({
			executablePath,
			args: browserArguments,
			timeout: 60_000
		});
		try {
			const page = await browser.newPage();
			await page.setContent('<title>ready</title>');
			return (await page.title()) === 'ready' ? undefined : 'it opened no page';
		} finally {
			await browser.close();
		}
	} catch (error) {
		return String(error.message).split('\n')[0];
	}
}

function isDebianRoot() {
	const release = existsSync('/etc/os-release') ? readFileSync('/etc/os-release', 'utf8') : '';
	return process.getuid?.() === 0 && /^ID="?debian"?$/m.test(release);
}

function installFromDebian() {
	const quiet = { DEBIAN_FRONTEND: 'noninteractive' };
	return (
		run('apt-get', ['update'], quiet) &&
		run('apt-get', ['install', '--yes', '--no-install-recommends', 'chromium'], quiet)
	);
}

const installByPlaywright = () => run('playwright', ['install', 'chromium']);

/** The path of a proven browser, also noted for `playwright.config.ts`. Throws if none is to be had. */
export async function findBrowser() {
	const playwright = await import('playwright');
	const tried = new Map();
	const firstProven = async (paths) => {
		for (const path of paths.filter((path) => !tried.has(path))) {
			const reason = await fault(playwright, path);
			if (reason === undefined) return path;
			tried.set(path, reason);
		}
		return undefined;
	};

	const chosen = process.env.CHROMIUM_PATH;
	let found = await firstProven(chosen ? [chosen] : candidates(playwright));
	if (chosen && !found) {
		throw new SetUpError(`CHROMIUM_PATH names ${chosen}, which does not work: ${tried.get(chosen)}`);
	}
	for (const install of [...(isDebianRoot() ? [installFromDebian] : []), installByPlaywright]) {
		if (found) break;
		console.log('No working Chromium found; installing one …');
		if (install()) found = await firstProven(candidates(playwright));
	}
	if (!found) {
		const reasons = [...tried].map(([path, reason]) => `\n  ${path}: ${reason}`).join('');
		throw new SetUpError(
			`The browser tests need Chromium and none works here.${reasons}\n` +
				'Install Chromium, or name one in the environment variable CHROMIUM_PATH.'
		);
	}
	writeFileSync(note('browser'), found);
	return found;
}

/** The browser noted by the last `findBrowser`, or undefined. */
export function notedBrowser() {
	const file = note('browser');
	return existsSync(file) ? readFileSync(file, 'utf8') : undefined;
}
