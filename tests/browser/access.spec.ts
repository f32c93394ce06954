import AxeBuilder from '@axe-core/playwright';
import type { Page } from '@playwright/test';
import { expect, test } from './fixtures.ts';
import { Workbench } from './workbench.ts';

const sizes = {
	phone: { width: 390, height: 844 },
	tablet: { width: 1024, height: 768 },
	laptop: { width: 1440, height: 900 }
};

/** What axe finds, as words: rule and place. */
async function violations(page: Page): Promise<string[]> {
	const { violations: found } = await new AxeBuilder({ page }).analyze();
	return found.flatMap(({ id, nodes }) =>
		nodes.map(({ target, failureSummary }) => `${id}: ${target} ${failureSummary}`)
	);
}

/** Drawings that neither have a name as an image (or as a group of controls) nor are hidden. */
const namelessDrawings = (page: Page): Promise<string[]> =>
	page.locator('svg, canvas').evaluateAll((drawings) =>
		drawings
			.filter((drawing) => {
				if (drawing.closest('[aria-hidden="true"]')) return false;
				const role = drawing.getAttribute('role');
				return !((role === 'img' || role === 'group') && drawing.getAttribute('aria-label'));
			})
			.map((drawing) => drawing.outerHTML.slice(0, 120))
	);

async function expectAccessible(page: Page): Promise<void> {
	expect(await violations(page)).toEqual([]);
	expect(await namelessDrawings(page)).toEqual([]);
}

const sidewaysScroll = (page: Page): Promise<number> =>
	page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);

test.describe('on a laptop', () => {
	test.use({ viewport: sizes.laptop, reducedMotion: 'reduce' });

	test('first visit, trays, dialogs and tables have no fault axe knows', async ({ page }) => {
		const app = new Workbench(page);
		await app.open();
		await app.pause();
		await expectAccessible(page);
		for (const name of [/reflectometer/, /^Pad/, /^Mast preamp/, /^Output/]) {
			await app.choose(name);
			await expectAccessible(page);
		}
		await page.getByRole('button', { name: 'Calibrate', exact: true }).click();
		await app.showChartTable();
		await app.bench.getByRole('button', { name: 'Show as table' }).click();
		await app.drop('broken.s2p', 'nothing of use');
		await expect(app.bench.getByRole('alert')).toBeVisible();
		await expectAccessible(page);
		await page.getByRole('button', { name: 'Keys' }).click();
		await expect(page.getByRole('dialog', { name: 'Keys' })).toBeVisible();
		await expectAccessible(page);
	});

	test('a lesson, and the projector theme, have none either', async ({ page }) => {
		const app = new Workbench(page);
		await app.open();
		await app.notebook.getByRole('button', { name: 'First lesson' }).click();
		await expect(app.notebook.getByRole('heading', { name: 'A wave comes back' })).toBeVisible();
		await app.pause();
		await expectAccessible(page);
		await page.getByRole('button', { name: 'Projector' }).click();
		await app.notebook.getByRole('button', { name: 'Open the notebook' }).click();
		await app.choose(/reflectometer/);
		await expectAccessible(page);
	});

	test('skip links come first, then notebook, top line, bench and reading, each with its focus shown', async ({
		page
	}) => {
		const app = new Workbench(page);
		await app.open();
		const parts: string[] = [];
		for (let presses = 0; presses < 70; presses++) {
			await page.keyboard.press('Tab');
			const seen = await page.evaluate(() => {
				const element = document.activeElement;
				if (!element || element === document.body) return null;
				const box = element.getBoundingClientRect();
				// where the ring is drawn: on the control, on what stands for it, or as a shape of the drawing
				const places = [
					element,
					element.parentElement,
					element.closest('label, tr, .box'),
					element.querySelector('.focus-ring')
				];
				const ringed = places.some((place) => {
					if (!place) return false;
					const style = getComputedStyle(place);
					return (
						(parseFloat(style.outlineWidth) >= 2 && style.outlineStyle !== 'none') ||
						(place.matches('.focus-ring') && style.stroke !== 'none' && style.opacity !== '0')
					);
				});
				const part =
					['nav', '#notebook', 'header', 'main', '#reading'].find((s) => element.closest(s)) ?? 'elsewhere';
				const name = `${element.tagName} ${element.getAttribute('aria-label') ?? element.textContent?.trim().slice(0, 30)}`;
				return { part, name, ringed, shown: box.width > 0 && box.height > 0 };
			});
			if (seen === null) break;
			expect(seen, seen.name).toMatchObject({ ringed: true, shown: true });
			if (parts.at(-1) !== seen.part) parts.push(seen.part);
			if (
				seen.part === '#reading' &&
				(await page
					.getByRole('button', { name: 'Copy to notebook' })
					.evaluate((b) => b === document.activeElement))
			)
				break;
		}
		expect(parts).toEqual(['nav', '#notebook', 'header', 'main', '#reading']);
	});

	test('a skip link leads to the bench, Enter opens a tray and Escape comes back to the part', async ({
		page
	}) => {
		const app = new Workbench(page);
		await app.open();
		await page.keyboard.press('Tab');
		await expect(page.getByRole('link', { name: 'To the bench' })).toBeFocused();
		await page.keyboard.press('Enter');
		await expect(app.bench).toBeFocused();
		await app.chooseByKeyboard(/^Pad/);
		await expect(app.bench.getByRole('slider', { name: 'Attenuation', exact: true })).toBeFocused();
		await page.keyboard.press('Escape');
		await expect(app.bench.getByRole('option', { name: /^Pad/ })).toBeFocused();
		await expect(app.bench.getByText('Choose a part to change it.')).toBeVisible();
		await page.keyboard.press('Space');
		await page.keyboard.press('Shift+?');
		await expect(page.getByRole('dialog', { name: 'Keys' })).toBeVisible();
		await page.keyboard.press('Escape');
		await expect(page.getByRole('dialog', { name: 'Keys' })).toBeHidden();
	});
});

for (const [name, viewport] of Object.entries(sizes))
	test(`nothing scrolls sideways on a ${name}`, async ({ page }) => {
		await page.setViewportSize(viewport);
		const app = new Workbench(page);
		await app.open();
		expect(await sidewaysScroll(page)).toBe(0);
		await app.choose(/reflectometer/);
		expect(await sidewaysScroll(page)).toBe(0);
	});

test.describe('on a phone', () => {
	test.use({ viewport: sizes.phone, hasTouch: true, reducedMotion: 'reduce' });

	test('all is there, and axe finds no fault', async ({ page }) => {
		const app = new Workbench(page);
		await app.open();
		await app.pause();
		await expectAccessible(page);
		await app.choose(/^Pad/);
		const slider = app.bench.getByRole('slider', { name: 'Attenuation', exact: true });
		await slider.focus();
		const before = await app.levels();
		await page.keyboard.press('PageUp');
		await expect.poll(async () => (await app.levels()).device).toBeLessThan(before.device - 9);
		await expectAccessible(page);
		// the sheet leaves the corridor in sight: at most 45 % of the height
		const tray = (await app.bench.getByRole('region', { name: 'Pad' }).boundingBox())!;
		expect(tray.height).toBeLessThanOrEqual(0.46 * sizes.phone.height);
		await app.bench.getByRole('button', { name: 'Close' }).click();
		await page.getByRole('button', { name: 'Bench', exact: true }).click();
		for (const act of ['Undo', 'Calibrate', 'Save', 'Share', 'Projector', 'Keys'])
			await expect(page.getByRole('button', { name: act, exact: true })).toBeVisible();
		await page.getByRole('button', { name: 'Undo' }).click();
		await expect.poll(async () => (await app.levels()).device).toBeCloseTo(before.device, 1);
		await page.keyboard.press('Escape');
		await app.reading.getByRole('button', { name: 'Copy to notebook' }).click();
		await app.notebook.getByRole('button', { name: 'Open the notebook' }).click();
		await expect(app.notebook.getByRole('button', { name: 'First lesson' })).toBeVisible();
		await expect(app.notebook.getByText(/return loss/)).toBeAttached();
		expect(await sidewaysScroll(page)).toBe(0);
	});
});
