import { expect, test } from 'vitest';
import { plainText } from '#lib/lesson/text.ts';
import { LessonRunner } from '#lib/lesson/runner.ts';
import { FakeBench, openFakeBench } from './fake-bench.ts';
import { twoPads } from './two-pads.ts';

function begin() {
	const { lesson } = twoPads();
	const bench = openFakeBench(lesson.bench) as FakeBench;
	return { lesson, bench, runner: LessonRunner.begin(lesson, bench) };
}

function atSwap() {
	const parts = begin();
	parts.runner.continue();
	parts.runner.commitWritten('10');
	parts.runner.continue();
	return parts;
}

function atSee() {
	const parts = atSwap();
	parts.bench.run({ name: 'set part', arguments: { attenuation: '30 dB' } });
	for (let i = 0; i < 3; i++) parts.runner.sweep();
	parts.runner.continue();
	return parts;
}

const filled = (runner: LessonRunner, text: string) => plainText(runner.text(text));

test('a prediction is never gated, its explanation waits, and its ink is never overwritten', () => {
	const { runner } = begin();
	runner.continue();
	expect(runner.canContinue).toBe(false);
	expect(runner.commitWritten('10')).toEqual({ right: false, met: 1, misconception: 'once' });
	expect(runner.canContinue).toBe(true);
	expect(runner.explanation('fall')).toBeUndefined();
	expect(() => runner.commitWritten('20')).toThrow('already stands in ink');
	expect(runner.stepProgress.ink.map(({ answer }) => answer)).toEqual([{ kind: 'number', value: 10 }]);
});

test('an answer that cannot be read commits nothing', () => {
	const { runner } = begin();
	expect(() => runner.commitWritten('1 dB')).toThrow('asks nothing');
	runner.continue();
	expect(() => runner.commitWritten('10 MHz')).toThrow('step "fall"');
	expect(() => runner.commitWritten('ten')).toThrow('step "fall"');
	expect(() => runner.continue()).toThrow('not done yet');
	expect(runner.stepProgress.ink).toEqual([]);
});

test('what a step prints and keeps is one number, whatever the bench does meanwhile', () => {
	const { runner, bench } = begin();
	expect(plainText(runner.stepText ?? [])).toContain('\u221275\u00a0dBm');
	bench.run({ name: 'set part', arguments: { attenuation: '30 dB' } });
	expect(bench.read('level.receiver', [])).toBe(-95);
	runner.continue();
	expect(runner.progress.kept.before.value).toBe(-75);
});

test('a condition must hold for three sweeps in a row', () => {
	const { runner, bench } = atSwap();
	bench.run({ name: 'set part', arguments: { attenuation: '30 dB' } });
	runner.sweep();
	expect(runner.sweep()).toBe(false);
	bench.run({ name: 'set part', arguments: { attenuation: '29 dB' } });
	expect(runner.sweep()).toBe(false);
	expect(runner.sweepsHeld).toBe(0);
	bench.run({ name: 'set part', arguments: { attenuation: '30 dB' } });
	expect([runner.sweep(), runner.sweep(), runner.sweep()]).toEqual([false, false, true]);
	bench.run({ name: 'set part', arguments: { attenuation: '29 dB' } });
	expect(runner.sweep()).toBe(true);
});

test('beginning again restores the bench of the step and erases no ink', () => {
	const { runner, bench } = atSwap();
	bench.run({ name: 'set part', arguments: { attenuation: '30 dB' } });
	for (let i = 0; i < 3; i++) runner.sweep();
	const before = runner.record;
	runner.again();
	expect(bench.read('pad.attenuation', [])).toBe(20);
	expect(runner.canContinue).toBe(false);
	expect(runner.record.slice(0, before.length)).toEqual(before);
	expect(runner.progress.steps.fall.ink).toHaveLength(1);
});

test('observe gives two tries, then a hint, then shows the answer; all of it is recorded', () => {
	const { runner } = atSee();
	runner.commitWritten('-60');
	expect(runner.stepProgress).toMatchObject({ hints: 0, shown: false });
	runner.commitWritten('-85');
	expect(runner.stepProgress).toMatchObject({ hints: 1, shown: false });
	expect(runner.explanation('see')?.misconception).toBe('A pad of 10 dB costs the reading 10 dB.');
	expect(runner.canContinue).toBe(false);
	runner.commitWritten('-61');
	expect(runner.stepProgress).toMatchObject({ hints: 1, shown: true });
	expect(runner.canContinue).toBe(true);
	expect(runner.shownAnswer).toBe('\u221295\u00a0dBm');
	expect(filled(runner, runner.shownExplanation ?? '')).toBe(
		'It was −75 dBm, and is −95 dBm now.'.replaceAll(' dBm', '\u00a0dBm')
	);
	expect(
		runner.record.filter((entry) => 'step' in entry && entry.step === 'see').map((entry) => entry.type)
	).toEqual(['entered', 'committed', 'committed', 'hint', 'committed', 'shown']);
});

test('the explanation of a prediction uses the ink and the numbers just made', () => {
	const { runner } = atSee();
	runner.commitWritten('-95');
	runner.continue();
	const { step } = runner;
	expect(step.id).toBe('why');
	expect(runner.explanation('fall')).toMatchObject({
		answer: '10\u00a0dB',
		right: false,
		misconception: 'A pad of 10 dB costs the reading 10 dB.'
	});
	expect(filled(runner, step.text ?? '')).toBe('You wrote 10\u00a0dB. The bench showed 20\u00a0dB.');
	expect(runner.line('*{{answer.fall}}*')).toEqual([
		{ type: 'emphasis', children: [{ type: 'value', text: '10\u00a0dB' }] }
	]);
	expect(runner.written('kept.before - level.receiver')).toBe('20\u00a0dB');
});

test('an answer leads to its own step and runs its commands', () => {
	const toChoose = () => {
		const parts = atSee();
		parts.runner.commitWritten('-95');
		parts.runner.continue();
		parts.runner.continue();
		return parts;
	};
	const quiet = toChoose();
	quiet.runner.commitWritten('less-pad');
	expect(quiet.bench.read('pad.attenuation', [])).toBe(10);
	quiet.runner.continue();
	expect(quiet.runner.progress.finished).toBe(true);
	expect(quiet.runner.canContinue).toBe(false);
	const loud = toChoose();
	loud.runner.commitWritten('more-level');
	loud.runner.continue();
	expect(loud.runner.step.id).toBe('back-down');
	expect(loud.bench.read('level.source', [])).toBe(0);
});

test('hints open one at a time and run out', () => {
	const { runner } = atSwap();
	expect(runner.openHint()).toBe("The pad's value stands in the tray.");
	expect(() => runner.openHint()).toThrow('no further hint');
	expect(runner.stepProgress.hints).toBe(1);
});

test('a saved lesson resumes at its step with the same bench, through JSON', () => {
	const { runner, lesson, bench } = atSee();
	runner.commitWritten('-60');
	const saved: unknown = JSON.parse(JSON.stringify(runner.save()));
	const elsewhere = new FakeBench(3);
	const resumed = LessonRunner.resume(lesson, elsewhere, saved);
	expect(resumed.step.id).toBe('see');
	expect(resumed.progress).toEqual(runner.progress);
	expect(elsewhere.snapshot()).toEqual(bench.snapshot());
	expect(resumed.save()).toEqual(runner.save());
});

test('a saved lesson that does not fit is refused and the bench left alone', () => {
	const { runner, lesson } = atSee();
	const saved = runner.save();
	const bench = new FakeBench(3);
	const before = bench.snapshot();
	expect(() => LessonRunner.resume(lesson, bench, { ...saved, version: 2 })).toThrow('has version 2');
	expect(() => LessonRunner.resume(lesson, bench, { ...saved, entries: 'none' })).toThrow(
		'cannot be read: entries'
	);
	expect(() => LessonRunner.resume(lesson, bench, null)).toThrow('cannot be read');
	expect(() => LessonRunner.resume(lesson, bench, { ...saved, lesson: 'another' })).toThrow(
		'begin the lesson afresh'
	);
	expect(() =>
		LessonRunner.resume(lesson, bench, { ...saved, entries: [{ type: 'entered', step: 'gone' }] })
	).toThrow('"gone"');
	expect(bench.snapshot()).toEqual(before);
});
