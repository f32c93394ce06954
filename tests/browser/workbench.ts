import type { Locator, Page } from '@playwright/test';
import { expect } from './fixtures.ts';

/** A number as the screen writes it: true minus, no-break spaces. */
export const numberIn = (text: string): number =>
	Number(text.replace(/\u2212/g, '-').replace(/[\s\u00a0]/g, ''));

/** All numbers of a sentence, in their order. */
export const numbersIn = (text: string): number[] =>
	[...text.matchAll(/\u2212?\d+(?:\.\d+)?/g)].map(([figure]) => numberIn(figure));

export interface Row {
	readonly resistance: number;
	readonly reactance: number;
	readonly returnLoss: number;
	readonly swr: number;
}

export interface ChartRow {
	readonly gamma: { readonly re: number; readonly im: number };
	/** The true Γ, worked out from the true R and X in the table; NaN while the truth is hidden. */
	readonly truth: { readonly re: number; readonly im: number };
}

/** Γ of R + jX in 50 Ω (definition of the reflection coefficient). */
export function gammaOf(resistance: number, reactance: number): { re: number; im: number } {
	const size = (resistance + 50) ** 2 + reactance ** 2;
	return { re: (resistance ** 2 + reactance ** 2 - 2500) / size, im: (100 * reactance) / size };
}

/** The page as its user sees it: what is where, by roles and labels. */
export class Workbench {
	readonly page: Page;
	readonly bench: Locator;
	readonly reading: Locator;
	readonly notebook: Locator;
	readonly corridor: Locator;
	readonly chart: Locator;

	constructor(page: Page) {
		this.page = page;
		this.bench = page.getByRole('main', { name: 'Bench' });
		this.reading = page.getByRole('region', { name: 'Reading', exact: true });
		this.notebook = page.getByRole('complementary', { name: 'Notebook' });
		this.corridor = this.bench.getByRole('img', { name: /corridor/ });
		this.chart = this.reading.getByRole('img', { name: /Smith chart/ });
	}

	/** Opens the app and waits for its first reading. */
	async open(address = './'): Promise<void> {
		await this.page.goto(address);
		await this.ready();
	}

	async ready(): Promise<void> {
		await expect(this.corridor).toHaveAccessibleName(/the outgoing level goes from/);
	}

	/** Pauses the run, so that what changes then changes because of the test. */
	async pause(): Promise<void> {
		await this.page.getByRole('button', { name: 'Pause' }).click();
		await expect(this.page.getByRole('button', { name: 'Run', exact: true })).toBeVisible();
		await this.settled();
	}

	/** Waits until the picture stands still. */
	async settled(): Promise<void> {
		let before = '';
		await expect
			.poll(
				async () => {
					const now = `${await this.corridor.getAttribute('aria-label')} ${await this.reading.innerText()}`;
					const same = now === before;
					before = now;
					return same;
				},
				{ intervals: [150] }
			)
			.toBe(true);
	}

	/** Opens the tray of a part with a click on it. A tray that shows more lies over the line, so it shows less first. */
	async choose(name: RegExp): Promise<void> {
		const less = this.bench.getByRole('button', { name: 'Less' });
		if (await less.isVisible()) await less.click();
		await this.bench.getByRole('option', { name }).click();
	}

	/** Goes by Tab to a control. */
	async tabTo(target: Locator): Promise<void> {
		for (let presses = 0; presses < 80; presses++) {
			if (await target.evaluate((element) => element === document.activeElement)) return;
			await this.page.keyboard.press('Tab');
		}
		throw new Error(`Tab does not reach ${target.toString()}`);
	}

	/** Opens the tray of a part by the keyboard alone: to the line by Tab, along it by arrows. */
	async chooseByKeyboard(name: RegExp): Promise<void> {
		await this.tabTo(this.bench.locator('[role=option][tabindex="0"]'));
		await this.page.keyboard.press('Home');
		const wanted = this.bench.getByRole('option', { name });
		for (let presses = 0; presses < 12; presses++) {
			if (await wanted.evaluate((element) => element === document.activeElement)) break;
			await this.page.keyboard.press('ArrowRight');
		}
		await expect(wanted).toBeFocused();
		await this.page.keyboard.press('Enter');
		await expect(wanted).toHaveAttribute('aria-selected', 'true');
	}

	/** What the corridor says of itself, in dBm and dB. Without a stated ceiling its margin is NaN. */
	async levels() {
		const words = (await this.corridor.getAttribute('aria-label')) ?? '';
		const find = (pattern: RegExp): number => numberIn(pattern.exec(words)?.[1] ?? 'NaN');
		return {
			source: find(/outgoing level goes from (\S+)\sdBm/),
			device: find(/to (\S+)\sdBm at the device/),
			toCeiling: find(/at the device, (\S+)\sdB (?:below|over) its ceiling/),
			over: words.includes('over its ceiling'),
			returned: find(/to (\S+)\sdBm at the receiver/),
			toFloor: find(/at the receiver, (\S+)\sdB above its floor/),
			floor: find(/its floor of (\S+)\sdBm/)
		};
	}

	/** The reading's table: low edge, centre, high edge. */
	async rows(): Promise<Row[]> {
		const table = this.reading.getByRole('table', { name: 'The reading at three frequencies' });
		const rows = await table
			.getByRole('row')
			.filter({ has: this.page.getByRole('cell') })
			.all();
		return Promise.all(
			rows.map(async (row) => {
				const [r, x, loss, swr] = await row.getByRole('cell').allInnerTexts();
				return {
					resistance: numberIn(r),
					reactance: numberIn(x.replace('j', '').replace('+', '')),
					returnLoss: numberIn(loss),
					swr: numberIn(swr)
				};
			})
		);
	}

	/** Spread of single readings and of the average, 95 % of Γ. */
	async spread(): Promise<{ single: number; average: number; of: number }> {
		const words = await this.reading.getByText(/^Spread/).innerText();
		const [, single, average, of] = numbersIn(words);
		return { single, average, of };
	}

	/** Size and angle of Γ at the marker, as the chart says it. */
	async gamma(): Promise<{ size: number; angle: number }> {
		const words = (await this.chart.getAttribute('aria-label')) ?? '';
		const found = /Γ = (\S+) at (\S+)°/.exec(words);
		return { size: numberIn(found?.[1] ?? 'NaN'), angle: numberIn(found?.[2] ?? 'NaN') };
	}

	/** Shows the chart as a table, which then stays. */
	async showChartTable(): Promise<void> {
		const button = this.reading.getByRole('button', { name: 'Show as table' });
		if ((await button.getAttribute('aria-expanded')) === 'false') await button.click();
	}

	async chartRows(): Promise<ChartRow[]> {
		const region = this.reading.getByRole('region', { name: 'The chart as a table' });
		const texts = await region
			.locator('tbody tr')
			.evaluateAll((rows) =>
				rows.map((row) => [...row.querySelectorAll('td')].map((cell) => cell.innerText))
			);
		return texts.map((cells) => {
			const [re, im, , , trueR, trueX] = cells.map((text) =>
				numberIn(text.replace('j', '').replace('+', ''))
			);
			return { gamma: { re, im }, truth: gammaOf(trueR, trueX) };
		});
	}

	/** Everything that is shown of the reading, as text: two pages that show the same reading agree in all of it. */
	async shown(): Promise<string> {
		await this.showChartTable();
		await this.settled();
		const table = await this.reading.getByRole('region', { name: 'The chart as a table' }).innerText();
		const rows = await this.reading
			.getByRole('table', { name: 'The reading at three frequencies' })
			.innerText();
		return [
			rows,
			await this.reading.getByText(/^Spread/).innerText(),
			table,
			await this.corridor.getAttribute('aria-label')
		].join('\n');
	}

	/** A file let go over the bench, as from the file manager. */
	async drop(name: string, text: string): Promise<void> {
		const data = await this.page.evaluateHandle(
			([fileName, content]) => {
				const transfer = new DataTransfer();
				transfer.items.add(new File([content], fileName));
				return transfer;
			},
			[name, text] as const
		);
		for (const type of ['dragenter', 'dragover', 'drop'])
			await this.bench.dispatchEvent(type, { dataTransfer: data });
	}
}
