import { expect, test } from 'vitest';
import { checkLesson, checkScript } from '#lib/lesson/checker.ts';
import { walkLesson, walkRightly } from '#lib/lesson/walk.ts';
import { FakeBench, openFakeBench, views } from './fake-bench.ts';
import { changed, twoPads } from './two-pads.ts';

const findings = (script: ReturnType<typeof twoPads>) =>
	walkLesson(script.lesson, openFakeBench).map((fault) => fault.message);

test('the fixture has no findings, walks included', () => {
	expect(checkScript(twoPads(), { bench: new FakeBench(), views }).map(String)).toEqual([]);
	expect(checkLesson(twoPads(), openFakeBench, views).map(String)).toEqual([]);
});

test('the right walk visits the steps of its branch', () => {
	expect([...walkRightly(twoPads().lesson, openFakeBench).visited]).toEqual([
		'look',
		'fall',
		'swap',
		'see',
		'why',
		'choose'
	]);
});

test('a condition that the starting bench meets is found', () => {
	const found = findings(
		changed(
			'until: pad.attenuation == 30 dB and level.receiver < kept.before - 15 dB',
			'until: pad.attenuation >= 20 dB'
		)
	);
	expect(found[0]).toContain('right walk, step "swap": The condition holds before anything was done.');
});

test('a step that says it starts true must do so', () => {
	const found = findings(
		changed(
			'    until: pad.attenuation == 30 dB',
			'    starts true: true\n    until: pad.attenuation == 30 dB'
		)
	);
	expect(found[0]).toContain('The step says that it starts true, and does not.');
});

test('a walk that does not get there is found', () => {
	const found = findings(
		changed('- set part: { part: pad, attenuation: 30 dB }', '- set part: { part: pad, attenuation: 25 dB }')
	);
	expect(found[0]).toContain('right walk, step "swap": After its walk the condition does not hold.');
});

test('a walk with a wrong answer is found', () => {
	expect(findings(changed('- answer: -95 dBm', '- answer: -90 dBm'))[0]).toContain(
		'step "see": The answer of its walk is not graded right.'
	);
});

test('a wrong walk that stops elsewhere, goes through, or shows another misconception is found', () => {
	expect(findings(changed('stops at: see', 'stops at: why')).join('\n')).toContain(
		'The walk stops here; it should stop at "why".'
	);
	expect(findings(changed('see: [{ answer: -85 dBm }]', 'see: [{ answer: -95 dBm }]')).join('\n')).toContain(
		'The walk does not stop here'
	);
	expect(
		findings(
			changed('fall: [{ answer: 10 dB }]\n      see: [{ answer: -85 dBm }]', 'see: [{ answer: -80 dBm }]')
		).join('\n')
	).toContain('No answer of the walk shows the misconception "once".');
	expect(findings(changed('back-down: [{ set level: { level: -5 dBm } }]', 'swap: []')).join('\n')).toContain(
		'The walk stops here; it should stop at "back-down".'
	);
});

test('a fault of the bench on the way is a finding, not a crash', () => {
	expect(
		findings(
			changed(
				'- set part: { part: pad, attenuation: 30 dB }',
				'- set prat: { part: pad, attenuation: 30 dB }'
			)
		)[0]
	).toContain('There is no bench command "set prat".');
});
