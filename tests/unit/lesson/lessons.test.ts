import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { checkLesson } from '#lib/lesson/checker.ts';
import { readLessonScript } from '#lib/lesson/lesson-file.ts';
import { openSession } from '#lib/lesson/open-bench.ts';
import { consequencesOf } from '#lib/lesson/parts.ts';
import { LessonRunner, SWEEPS_HELD } from '#lib/lesson/runner.ts';
import { plainText } from '#lib/lesson/text.ts';
import { lessonViews } from '#lib/lesson/views.ts';

const folder = new URL('../../../lessons/', import.meta.url);
const files = readdirSync(folder).filter((name) => name.endsWith('.yaml'));
const AWAY = `
format: 1
title: Away
minutes: 2
objective: Look elsewhere.
show: [line]
steps:
  - id: look
    kind: do
    title: Look
    text: Look at R.
    until: truth.R(169.525 MHz) > 1 ohm
    starts true: true
    walk: []
`;

const script = (file: string) => readLessonScript(readFileSync(new URL(file, folder), 'utf8'), file);

test('the lessons of the course are there, by number and name', () => {
	expect(files).toEqual(
		expect.arrayContaining([
			'01-a-wave-comes-back.yaml',
			'02-how-loud-is-too-loud.yaml',
			'05-a-quiet-device-answers-differently.yaml',
			'07-a-pad-costs-twice.yaml'
		])
	);
	for (const file of files) expect(file).toMatch(/^\d\d(-[a-z0-9]+)+\.yaml$/);
});

// The checker walks every lesson on the real bench: conditions false before a walk and true after it, right answers
// graded right, and every wrong walk stopping where it says. Each walk solves the front end many times.
test.each(files)('%s: the checker and both kinds of walk find nothing', { timeout: 60_000 }, (file) => {
	expect(checkLesson(script(file), openSession, lessonViews).map(String)).toEqual([]);
});

test.each(files)('%s takes 5 to 15 minutes', (file) => {
	const { minutes } = script(file).lesson;
	expect(minutes).toBeGreaterThanOrEqual(5);
	expect(minutes).toBeLessThanOrEqual(15);
});

test.each(files)('%s: no condition holds on the starting bench', { timeout: 60_000 }, (file) => {
	const { lesson } = script(file);
	for (const step of lesson.steps) {
		if (step.kind !== 'do') continue;
		// the lesson cut down to this one step; what it needs of earlier steps is tested by the walks
		if (/kept\.|answer\(/.test(String(step.until))) continue;
		const alone = LessonRunner.begin(
			{ ...lesson, steps: [{ ...step, start: [] }] },
			openSession(lesson.bench)
		);
		for (let sweep = 0; sweep < SWEEPS_HELD; sweep++) alone.sweep();
		expect(alone.canContinue, step.id).toBe(false);
	}
});

test.each(files)('%s breaks the misconception it names first, by an answer of a prediction', (file) => {
	const { lesson } = script(file);
	const [first] = Object.keys(lesson.misconceptions);
	const named = lesson.steps.flatMap((step) =>
		step.kind === 'predict'
			? consequencesOf(step.question, []).map(({ consequence }) => consequence.misconception)
			: []
	);
	expect(named).toContain(first);
});

test('a sweep moved away from the frequency a lesson asks for is no error: nothing holds, and a blank says so', () => {
	const bench = openSession(undefined);
	const { lesson } = readLessonScript(AWAY, 'away.yaml');
	const runner = LessonRunner.begin(lesson, bench);
	bench.run({ name: 'set sweep', arguments: { start: '170 MHz', stop: '171 MHz' } });
	expect(runner.sweep()).toBe(false);
	expect(runner.line('It reads {{displayed.R(169.525 MHz)}}.')).toContainEqual({
		type: 'value',
		text: 'no value'
	});
});

test('the text of a step keeps the numbers it began with, through a resume too', () => {
	const bench = openSession(undefined);
	const { lesson } = readLessonScript(
		AWAY.replace('Look at R.', 'The source sends {{level.set}}. Turn it down.'),
		'away.yaml'
	);
	const runner = LessonRunner.begin(lesson, bench);
	const before = JSON.stringify(runner.stepText);
	expect(before).toContain('20\u00a0dBm');
	bench.run({ name: 'set level', arguments: { level: '-40 dBm' } });
	expect(JSON.stringify(runner.stepText)).toBe(before);
	const again = LessonRunner.resume(lesson, openSession(undefined), runner.save());
	expect(JSON.stringify(again.stepText)).toBe(before);
});

test('a spread is told with two digits, printed and kept', () => {
	const { lesson } = script('05-a-quiet-device-answers-differently.yaml');
	const runner = LessonRunner.begin(lesson, openSession(lesson.bench));
	const printed = /spread of (\S+)\. /.exec(plainText(runner.stepText ?? []))?.[1] ?? '';
	expect(printed).toMatch(/^0\.0*[1-9]\d?$/);
	runner.commitWritten('walks');
	runner.continue();
	expect(runner.written('kept.spread')).toBe(printed);
	expect(runner.written('spread.gamma')).toMatch(/^0\.0*[1-9]\d?$/);
});
