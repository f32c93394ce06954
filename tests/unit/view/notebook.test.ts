import { expect, test } from 'vitest';
import { LessonRunner } from '#lib/lesson/runner.ts';
import { plainText } from '#lib/lesson/text.ts';
import { emptyDraft, movedItem, wanting, writtenAnswer } from '#lib/view/notebook/answer-draft.ts';
import { lessonPage } from '#lib/view/notebook/lesson-page.ts';
import type { AskedQuestion, LessonPage, OpenStep, OtherStep } from '#lib/view/notebook/lesson-page.ts';
import { openFakeBench } from '../lesson/fake-bench.ts';
import { changed, source, twoPads } from '../lesson/two-pads.ts';

function begin() {
	const { lesson } = twoPads();
	const bench = openFakeBench(lesson.bench);
	return { bench, runner: LessonRunner.begin(lesson, bench) };
}

const open = (page: LessonPage) => page.steps.find((step) => step.state === 'open') as OpenStep;
const named = (page: LessonPage, id: string) => page.steps.find((step) => step.id === id) as OtherStep;

test('a lesson opens at its first step; later steps show their title only', () => {
	const page = lessonPage(begin().runner);
	expect(page).toMatchObject({
		title: 'Two ways through a pad',
		minutes: 15,
		at: 1,
		of: 7,
		finished: false,
		firstInk: true
	});
	expect(open(page)).toMatchObject({
		id: 'look',
		kind: 'read',
		canContinue: true,
		question: undefined,
		held: undefined
	});
	expect(plainText(open(page).text ?? [])).toContain('dBm');
	expect(page.steps.slice(1).every((step) => step.state === 'later')).toBe(true);
	expect(named(page, 'fall')).toMatchObject({
		number: 2,
		title: 'A larger pad',
		ink: [],
		explanation: undefined
	});
});

test('a prediction asks, then stands in ink without its explanation until it is explained', () => {
	const { runner, bench } = begin();
	runner.continue();
	expect(open(lessonPage(runner)).question).toMatchObject({ kind: 'number', unit: 'dB' });
	runner.commitWritten('10');
	const committed = lessonPage(runner);
	expect(committed.firstInk).toBe(false);
	expect(open(committed)).toMatchObject({ question: undefined, canContinue: true, explanation: undefined });
	expect(open(committed).ink).toHaveLength(1);
	expect(open(committed).ink[0]).toContain('10');

	runner.continue();
	expect(named(lessonPage(runner), 'fall')).toMatchObject({ state: 'past', explanation: undefined });
	bench.run({ name: 'set part', arguments: { attenuation: '30 dB' } });
	runner.sweep();
	expect(open(lessonPage(runner)).held).toEqual({ sweeps: 1, of: 3 });
	runner.sweep();
	runner.sweep();
	expect(open(lessonPage(runner))).toMatchObject({ held: undefined, canContinue: true });

	runner.continue();
	runner.commitWritten('-95 dBm');
	runner.continue();
	const page = lessonPage(runner);
	expect(open(page).compared?.ink).toContain('10');
	expect(open(page).compared?.observed).toBeDefined();
	expect(open(page).ofPrediction).toMatchObject({
		right: false,
		misconception: expect.stringContaining('10 dB')
	});
	expect(open(page).explanation).toBeUndefined();
	expect(named(page, 'fall').explanation).toBeDefined();
});

test('observing: two tries, then a hint, then the answer', () => {
	const { runner, bench } = begin();
	runner.continue();
	runner.commitWritten('20');
	runner.continue();
	bench.run({ name: 'set part', arguments: { attenuation: '30 dB' } });
	for (let i = 0; i < 3; i++) runner.sweep();
	runner.continue();
	runner.commitWritten('-50 dBm');
	expect(open(lessonPage(runner))).toMatchObject({
		hints: [],
		hintsLeft: 1,
		shown: undefined,
		triesLeft: 2,
		canContinue: false
	});
	runner.commitWritten('-51 dBm');
	expect(open(lessonPage(runner))).toMatchObject({ hintsLeft: 0, triesLeft: 1, canContinue: false });
	expect(open(lessonPage(runner)).hints).toHaveLength(1);
	runner.commitWritten('-52 dBm');
	const step = open(lessonPage(runner));
	expect(step).toMatchObject({ canContinue: true, question: undefined, triesLeft: undefined });
	expect(step.shown?.answer).toBe('\u221295\u00a0dBm');
	expect(plainText(step.shown?.text ?? [])).toContain('It was');
	expect(step.ink).toHaveLength(3);
});

test('ink has the numbers of what was chosen, not their blanks', () => {
	const { lesson } = changed('text: Take a smaller pad', "text: 'A pad under {{kept.before + 95 dB}}'");
	const bench = openFakeBench(lesson.bench);
	const runner = LessonRunner.begin(lesson, bench);
	runner.continue();
	runner.commitWritten('20');
	runner.continue();
	bench.run({ name: 'set part', arguments: { attenuation: '30 dB' } });
	for (let i = 0; i < 3; i++) runner.sweep();
	runner.continue();
	runner.commitWritten('-95 dBm');
	runner.continue();
	runner.continue();
	runner.commitWritten('less-pad');
	expect(open(lessonPage(runner)).ink).toEqual(['A pad under 20\u00a0dBm']);
});

test('a step that a decision led past is not on the page of a finished lesson', () => {
	const { runner, bench } = begin();
	runner.continue();
	runner.commitWritten('20');
	runner.continue();
	bench.run({ name: 'set part', arguments: { attenuation: '30 dB' } });
	for (let i = 0; i < 3; i++) runner.sweep();
	runner.continue();
	runner.commitWritten('-95 dBm');
	runner.continue();
	runner.continue();
	expect(open(lessonPage(runner)).question).toMatchObject({ kind: 'choice' });
	runner.commitWritten('less-pad');
	runner.continue();
	const page = lessonPage(runner);
	expect(page.finished).toBe(true);
	expect(page.steps.map((step) => step.id)).toEqual(['look', 'fall', 'swap', 'see', 'why', 'choose']);
	expect(page.steps.every((step) => step.state === 'past')).toBe(true);
});

test('an answer in pencil is written only when nothing of it is missing', () => {
	const ask: [] = [];
	const number: AskedQuestion = { kind: 'number', ask, unit: 'dB' };
	expect(writtenAnswer(number, emptyDraft(number))).toBeNull();
	expect(writtenAnswer(number, { first: ' 10 ', second: '', order: [] })).toBe('10');
	const interval: AskedQuestion = { kind: 'interval', ask, unit: 'Ω' };
	expect(writtenAnswer(interval, { first: '40', second: '', order: [] })).toBeNull();
	expect(writtenAnswer(interval, { first: '40', second: '60', order: [] })).toEqual({
		low: '40',
		high: '60'
	});
	expect(writtenAnswer({ kind: 'point', ask }, { first: '0.5', second: '\u22120.2', order: [] })).toEqual({
		at: [0.5, -0.2]
	});
	const order: AskedQuestion = { kind: 'order', ask, items: ['a', 'b', 'c'].map((id) => ({ id, text: [] })) };
	expect(writtenAnswer(order, emptyDraft(order))).toEqual(['a', 'b', 'c']);
});

test('a point is written only with two finite numbers, and what it wants is said', () => {
	const point: AskedQuestion = { kind: 'point', ask: [] };
	const wants = (first: string, second: string) => wanting(point, { first, second, order: [] });
	for (const [first, second] of [
		['x', '2'],
		['0.2', ''],
		['0,2', '0'],
		['Infinity', '0'],
		['0x1', '0']
	])
		expect(writtenAnswer(point, { first, second, order: [] })).toBeNull();
	expect(wants('x', '2')).toContain('\u201cx\u201d is not a number');
	expect(wants('0.1', '0,2')).toContain('Write 0.2.');
	expect(wants('0.1', '')).toContain('Mark the place');
	expect(wants('0.1', '-.2')).toBeNull();
});

test('what is missing from an answer is said', () => {
	const number: AskedQuestion = { kind: 'number', ask: [], unit: 'dB' };
	expect(wanting(number, emptyDraft(number))).toBe('Write your answer first.');
	expect(wanting(number, { first: '3', second: '', order: [] })).toBeNull();
	const interval: AskedQuestion = { kind: 'interval', ask: [], unit: 'Ω' };
	expect(wanting(interval, { first: '40', second: '', order: [] })).toBe('Write both ends first.');
	const choice: AskedQuestion = { kind: 'choice', ask: [], options: [] };
	expect(wanting(choice, emptyDraft(choice))).toBe('Choose one first.');
});

/** The fixture with another question at its prediction. */
function asking(question: string) {
	const at = source.indexOf('    question:');
	const piece = source.slice(at, source.indexOf('\n  - id: swap'));
	const { lesson } = changed(piece, question);
	const runner = LessonRunner.begin(lesson, openFakeBench(lesson.bench));
	runner.continue();
	return runner;
}

test('an order in ink is a list of its items', () => {
	const runner = asking(`    question:
      kind: order
      ask: Which comes first?
      items: [{ id: a, text: The pad }, { id: b, text: The cable }]
      answers: [{ is: [b, a], right: true, explain: So it is. }]
      otherwise: { explain: The other way round. }
    walk: [{ answer: [b, a] }]
`);
	runner.commitWritten(['b', 'a']);
	expect(open(lessonPage(runner)).ink).toEqual([['The cable', 'The pad']]);
});

test('a question about a place keeps the chart in sight, in ink too', () => {
	const runner = asking(`    question:
      kind: point
      ask: Where is the match?
      picture: smith chart
      answers: [{ is: { circle: { centre: [0, 0], radius: 0.05 } }, right: true, explain: In the middle. }]
      otherwise: { explain: In the middle. }
    walk: [{ answer: { at: [0, 0] } }]
`);
	expect(lessonPage(runner).onChart).toBe(true);
	runner.commitWritten({ at: [0.4, 0] });
	expect(lessonPage(runner).onChart).toBe(true);
	runner.continue();
	expect(lessonPage(runner).onChart).toBe(false);
});

test('items of an order move one place and stop at the ends', () => {
	expect(movedItem(['a', 'b', 'c'], 'c', -1)).toEqual(['a', 'c', 'b']);
	expect(movedItem(['a', 'b', 'c'], 'a', -1)).toEqual(['a', 'b', 'c']);
	expect(movedItem(['a', 'b', 'c'], 'a', 1)).toEqual(['b', 'a', 'c']);
	expect(movedItem(['a', 'b'], 'x', 1)).toEqual(['a', 'b']);
});
