import { readFileSync } from 'node:fs';
import { readLesson } from '../../src/lib/lesson/lesson-file.ts';
import type { Lesson, Step, WalkEntry, WrittenAnswer } from '../../src/lib/lesson/schema.ts';
import { isAnswer, questionOf } from '../../src/lib/lesson/schema.ts';
import { expect, test } from './fixtures.ts';
import { Workbench } from './workbench.ts';

test.use({ viewport: { width: 1440, height: 900 } });

const lessonFile = (id: string): Lesson =>
	readLesson(readFileSync(new URL(`../../lessons/${id}.yaml`, import.meta.url), 'utf8'), `${id}.yaml`);
const wave = lessonFile('01-a-wave-comes-back');
const loud = lessonFile('02-how-loud-is-too-loud');
const quiet = lessonFile('05-a-quiet-device-answers-differently');
const pad = lessonFile('07-a-pad-costs-twice');

let app: Workbench;
test.beforeEach(async ({ page }) => {
	app = new Workbench(page);
	await app.open();
});

/** The step that is open, found by the number and title the notebook gives it. */
const openStep = (lesson: Lesson, step: Step) =>
	app.notebook.getByRole('region', { name: `Step ${lesson.steps.indexOf(step) + 1}, ${step.title}` });

async function begin(lesson: Lesson): Promise<void> {
	await app.notebook.getByRole('button', { name: 'First lesson' }).click();
	if (lesson !== wave) {
		await app.notebook.getByRole('button', { name: 'Leave the lesson' }).click();
		await app.notebook.getByRole('button', { name: new RegExp(`^${lesson.title}`) }).click();
	}
	await expect(app.notebook.getByRole('heading', { level: 2, name: lesson.title })).toBeVisible();
}

async function fill(label: string, value: string): Promise<void> {
	const field = app.bench.getByRole('textbox', { name: label, exact: true });
	await field.fill(value);
	await field.press('Enter');
	await expect(app.bench.getByRole('alert')).toHaveCount(0);
}

async function calibrate({ plane, averages }: Record<string, string>): Promise<void> {
	await app.page.getByRole('button', { name: 'Calibrate', exact: true }).click();
	const tray = app.bench.getByRole('region', { name: 'Calibrate' });
	await tray.getByRole('combobox', { name: 'At plane' }).selectOption(String(plane));
	await fill('Averages', String(averages));
	await tray.getByRole('button', { name: 'Calibrate', exact: true }).click();
}

/** What a learner's hands do for a command of a walk. */
async function perform(command: string | Readonly<Record<string, unknown>>): Promise<void> {
	const [[name, given]] = Object.entries(typeof command === 'string' ? { [command]: {} } : command) as [
		string,
		Record<string, string>
	][];
	const select = (selection: string) => app.bench.locator(`[data-selection="${selection}"]`).click();
	const settings: Record<string, string> = { attenuation: 'Attenuation', length: 'Length' };
	if (name === 'set level') {
		await app.choose(/reflectometer/);
		await fill('Source level', given.level);
	} else if (name === 'set averages') {
		await app.choose(/reflectometer/);
		await fill('Averages', String(given.averages));
	} else if (name === 'set part') {
		const { part, ...rest } = given;
		await select(`part:${part}`);
		for (const [setting, value] of Object.entries(rest)) await fill(settings[setting], value);
	} else if (name === 'set device') {
		await select('device');
		await fill('R', given.resistance);
		await fill('X', given.reactance);
	} else if (name === 'set ceiling change') {
		await select('device');
		await app.bench.getByRole('button', { name: 'More' }).click();
		await fill('Γ may move by', String(given.change));
		await app.bench.getByRole('button', { name: 'Less' }).click();
	} else if (name === 'calibrate') await calibrate(given);
	else if (name === 'reveal truth') await app.reading.getByRole('checkbox', { name: /truth/ }).check();
	else if (name === 'renew part')
		await app.bench.getByRole('button', { name: 'Replace part: Mast preamp' }).click();
	else throw new Error(`This test has no hands for "${name}".`);
}

/** Writes an answer in pencil, as the step asks for it. */
async function write(step: Step, answer: WrittenAnswer): Promise<void> {
	const question = questionOf(step)!;
	const field = (name: string | RegExp) => app.notebook.getByRole('textbox', { name });
	if (question.kind === 'number') await field(/^Your answer/).fill(String(answer));
	else if (question.kind === 'choice') {
		const { text } = question.answers.find(({ is }) => is === answer)!;
		await app.notebook.getByRole('radio', { name: text }).check();
	} else if (question.kind === 'point') {
		const [re, im] = (answer as { at: [number, number] }).at;
		await field('Real part of Γ').fill(String(re));
		await field('Imaginary part of Γ').fill(String(im));
	} else if (question.kind === 'order') {
		const wanted = (answer as string[]).map((id) => question.items.find((item) => item.id === id)!.text);
		for (let place = 0; place < wanted.length; place++)
			for (;;) {
				const items = await app.notebook.locator('.order li > span:not(.moves)').allInnerTexts();
				const at = items.findIndex((text) => text.trim() === wanted[place]);
				if (at === place) break;
				await app.notebook.getByRole('button', { name: `Move item ${at + 1} up` }).click();
			}
	} else throw new Error(`This test cannot answer "${question.kind}".`);
}

async function answer(step: Step, written: WrittenAnswer): Promise<void> {
	await write(step, written);
	const commit = app.notebook.getByRole('button', { name: 'Commit in ink' });
	await commit.focus();
	await commit.press('Enter');
}

async function walk(step: Step, entries: readonly WalkEntry[] = step.walk): Promise<void> {
	for (const entry of entries)
		await (isAnswer(entry) ? answer(step, entry.answer) : perform(entry as string | Record<string, unknown>));
}

async function goOn(): Promise<void> {
	await app.notebook.getByRole('button', { name: /^(Next|Finish)$/ }).click();
}

/** Walks the lesson up to a step, or to its end. */
async function walkTo(lesson: Lesson, end?: string): Promise<void> {
	for (const step of lesson.steps) {
		await expect(openStep(lesson, step)).toBeVisible();
		if (step.id === end) return;
		await walk(step);
		if (step.kind === 'do')
			await expect(app.notebook.getByText('Done: it held for three sweeps.')).toBeVisible();
		await goOn();
	}
}

for (const lesson of [wave, loud, quiet, pad])
	test(`"${lesson.title}" is gone through: predict, do, observe, explain`, async () => {
		test.setTimeout(120_000);
		await begin(lesson);
		await walkTo(lesson);
		await expect(app.notebook.getByText('The lesson is finished.')).toBeVisible();
		await expect(
			app.notebook.getByRole('img', { name: `All ${lesson.steps.length} steps done` })
		).toBeVisible();
		await app.notebook.getByRole('button', { name: 'All lessons' }).click();
		await expect(
			app.notebook.getByRole('button', { name: new RegExp(`${lesson.title}.*finished`) })
		).toBeVisible();
	});

test('a wrong prediction is not held up, and its explanation names the misconception', async () => {
	await begin(pad);
	await walkTo(pad, 'foresee');
	const [foresee, swap, twice] = pad.steps.slice(1, 4);
	const wrong = pad['wrong walks'].find((w) => w['stops at'] === 'foresee')!;
	await walk(foresee, wrong.follow.foresee);
	await goOn();
	await walk(swap);
	await goOn();
	const step = openStep(pad, twice);
	await expect(step.getByText(pad.misconceptions.once)).toBeVisible();
	await expect(step.getByText('You counted the way out.')).toBeVisible();
	await expect(step.getByText('Your ink')).toBeVisible();
});

test('a reload comes back to the step with the same readings and the ink', async ({ page }) => {
	await begin(wave);
	await walkTo(wave, 'place-300');
	await app.pause();
	const [shown, ink] = [await app.shown(), await app.notebook.locator('.step.past').allInnerTexts()];
	expect(ink).toHaveLength(3);
	await page.waitForTimeout(1000);
	await page.reload();
	await app.ready();
	await expect(openStep(wave, wave.steps[3])).toBeVisible();
	expect(await app.shown()).toBe(shown);
	expect(await app.notebook.locator('.step.past').allInnerTexts()).toEqual(ink);
});

test('"Begin this step again" brings the bench of the step back and leaves the ink', async () => {
	await begin(pad);
	await walkTo(pad, 'swap');
	await perform({ 'set part': { part: 'pad', attenuation: '36 dB' } });
	await expect(app.bench.getByRole('option', { name: /^Pad, 36/ })).toBeVisible();
	await app.notebook.getByRole('button', { name: 'Begin this step again' }).click();
	await expect(app.bench.getByRole('option', { name: /^Pad, 30/ })).toBeVisible();
	await expect(openStep(pad, pad.steps[2])).toBeVisible();
	await expect(app.notebook.locator('.step.past').nth(1)).toContainText('−112.9');
});

test('a place on the chart is marked by pointer and by keys', async ({ page }) => {
	await begin(wave);
	await walkTo(wave, 'where-300');
	const chart = (await app.chart.boundingBox())!;
	await page.mouse.click(chart.x + chart.width * 0.7, chart.y + chart.height * 0.45);
	const re = app.notebook.getByRole('textbox', { name: 'Real part of Γ' });
	await expect(re).not.toHaveValue('');
	const before = await re.inputValue();
	await page.keyboard.press('ArrowRight');
	await page.keyboard.press('Enter');
	await expect(re).not.toHaveValue(before);
});
