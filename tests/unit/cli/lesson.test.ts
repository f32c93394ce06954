import { expect, test } from 'vitest';
import { folderWith, perform } from './terminal.ts';

const good = `format: 1
title: One look
minutes: 3
objective: Read a level.
misconceptions: {}
show: [line, corridor]
steps:
  - id: turn
    kind: do
    title: Turn it down
    text: Turn the source down to -30 dBm.
    until: level.set <= -30 dBm
    hints:
      - The level stands at the reflectometer.
    walk:
      - set level: { level: -30 dBm }
wrong walks: []
`;

test('a lesson without fault passes, its walk taken', async () => {
	const inside = folderWith({ 'good.yaml': good });
	expect(await perform('lesson', inside('good.yaml'))).toEqual({
		code: 0,
		printed: `${inside('good.yaml')}: nothing to find fault with`,
		noted: ''
	});
});

test('a walk that does not get there is a finding, and findings fall short', async () => {
	const inside = folderWith({ 'bad.yaml': good.replace('{ level: -30 dBm }', '{ level: -25 dBm }') });
	const { code, printed } = await perform('lesson', inside('bad.yaml'));
	expect(code).toBe(1);
	expect(printed).toContain('1 finding\n');
	expect(printed).toContain('turn');
});

test('a script that cannot be read is a finding; a file that is not there is unusable', async () => {
	const inside = folderWith({ 'good.yaml': good, 'broken.yaml': 'format: 1\n\ttitle: x\n' });
	const files = [inside('good.yaml'), inside('broken.yaml')];
	const both = await perform('lesson', ...files, '--json');
	expect(both.code).toBe(1);
	const { lessons } = JSON.parse(both.printed) as {
		lessons: { file: string; findings: { place: string }[] }[];
	};
	expect(lessons.map(({ file }) => file)).toEqual(files);
	expect(lessons[0].findings).toEqual([]);
	expect(lessons[1].findings[0].place).toContain('line 2');
	expect(both.noted).toContain('(2 of 2)');

	const missing = await perform('lesson', ...files, inside('none.yaml'));
	expect(missing.code).toBe(2);
	expect(missing.printed).toContain('nothing to find fault with');
	expect(missing.noted).toContain('There is no such file.');
});
