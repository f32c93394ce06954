import { expect, test } from 'vitest';
import { checkScript } from '#lib/lesson/checker.ts';
import { readLessonScript } from '#lib/lesson/lesson-file.ts';
import { glossary } from '#lib/lesson/glossary.ts';
import { countWords, sentencesOf } from '#lib/lesson/reading-limits.ts';
import { FakeBench, views } from './fake-bench.ts';
import { changed, source } from './two-pads.ts';

const found = (piece: string, replacement: string) =>
	checkScript(changed(piece, replacement), { bench: new FakeBench(), views })
		.map((fault) => fault.message)
		.join('\n');

const word = (count: number) => Array.from({ length: count }, () => 'word').join(' ');

test.each([
	['an id used twice', 'id: fall', 'id: look', 'The id "look" is used twice.'],
	['the reserved id', 'id: back-down', 'id: end', 'The id "end" is reserved.'],
	[
		'a jump to nowhere',
		'next: end',
		'next: back-donw',
		'There is no step "back-donw". Did you mean "back-down"?'
	],
	['a jump back', 'next: end', 'next: swap', '"next" leads back to "swap".'],
	[
		'a step out of reach',
		'    of: fall',
		'    of: fall\n    next: back-down',
		'steps[6]: No step leads here.'
	],
	['a prediction never explained', '    of: fall\n', '', 'No later step explains this prediction.'],
	['an explanation of no prediction', 'of: fall', 'of: swap', '"swap" is no prediction before this step.'],
	[
		'an unknown observable',
		'observed: kept.before - level.receiver',
		'observed: level.reciever',
		'Did you mean "level.receiver"?'
	],
	['kinds that do not fit', 'level.device < -40 dBm', 'level.device < 40 MHz', 'do not go together with "<"'],
	[
		'a condition that is no condition',
		'until: level.device < -40 dBm',
		'until: level.device',
		'is a level; a yes or no is needed here'
	],
	[
		'an answer in another unit',
		'is: level.receiver',
		'is: 20 ohm',
		'is a resistance; a level is needed here'
	],
	['a number kept later', '{{level.device}}', '{{kept.before}}', 'There is no observable "kept.before"'],
	['an answer given later', '{{level.device}}', '{{answer.fall}}', 'There is no observable "answer("fall")"'],
	['an unknown unit', 'unit: dBm', 'unit: dbm', '"dbm" is not a unit known here'],
	[
		'a relative tolerance of a level',
		'tolerance: 0.5 dB',
		'tolerance: 5 %',
		'Decibels need a tolerance in dB'
	],
	[
		'an unknown command',
		'- set part: { part: pad, attenuation: 30 dB }',
		'- set prat: { part: pad, attenuation: 30 dB }',
		'There is no bench command "set prat". Did you mean "set part"?'
	],
	['an unknown part of the screen', '[line, corridor', '[line, coridor', 'Did you mean "corridor"?'],
	['an unknown term', 'glossary:pad', 'glossary:pat', 'There is no glossary term "pat". Did you mean "pad"?'],
	['a dead link', '(glossary:pad)', '(#nowhere)', 'There is no step "nowhere".'],
	['a forbidden link', '(glossary:pad)', '(javascript:x)', 'leads nowhere allowed'],
	['an open blank', '{{level.device}}', '{{level.device}', 'A blank is not closed.'],
	[
		'a misconception without a wrong walk',
		'misconceptions:',
		'misconceptions:\n  other: Something else.',
		'No wrong walk shows the misconception "other".'
	],
	[
		'an unknown misconception',
		'          misconception: loud-is-good',
		'          misconception: loud-is-god',
		'Did you mean "loud-is-good"?'
	],
	[
		'a wrong prediction without one',
		'          misconception: once\n          explain: You counted',
		'          explain: You counted',
		'A wrong prediction names no misconception.'
	],
	[
		'no right answer',
		'- is: level.receiver\n          right: true',
		'- is: level.receiver',
		'No answer is marked "right: true".'
	],
	[
		'an observe step without hints',
		'    hints:\n      - The lower trace ends at the receiver.\n',
		'',
		'An observe step has no hint.'
	],
	['an empty hint', 'The lower trace ends at the receiver.', '" "', 'The hint is empty.'],
	[
		'a do step without a walk',
		'    walk:\n      - set part: { part: pad, attenuation: 30 dB }\n',
		'',
		'The step has no walk.'
	],
	[
		'a question without an answer in its walk',
		'      - answer: -95 dBm',
		'      - begin afresh',
		'The walk gives no answer.'
	],
	['too few minutes', 'minutes: 15', 'minutes: 5', '0.7 minutes a step'],
	['a long sentence', 'text: Set the pad', `text: ${word(23)}. Set the pad`, 'A sentence has 23 words'],
	[
		'a long read',
		'text: Set the pad',
		`text: ${Array.from({ length: 7 }, () => `${word(10)}.`).join(' ')} Set the pad`,
		'words to read before something to do'
	],
	[
		'a wrong walk over no step',
		'stops at: see',
		'stops at: sea',
		'There is no step "sea". Did you mean "see"?'
	]
])('finds %s', (_, piece, replacement, expected) => {
	expect(found(piece, replacement)).toContain(expected);
});

test('a number kept on one way only cannot be used where another way leads', () => {
	const branched = source
		.replace('    hints:\n      - The pad', '    keep: { aside: level.device }\n    hints:\n      - The pad')
		.replace('- is: kept.before - 10 dB', '- is: kept.aside - 10 dB');
	const check = (text: string) =>
		checkScript(readLessonScript(text, 'branched.yaml'), { bench: new FakeBench(), views }).map(
			(fault) => fault.finding
		);
	expect(check(branched)).toEqual([]);
	const around = branched.replace('passes the pad too.', 'passes the pad too.\n          next: see');
	expect(check(around)).toEqual(['There is no observable "kept.aside".']);
});

test('a finding names file, line and path', () => {
	expect(found('until: level.device < -40 dBm', 'until: level.devise < -40 dBm')).toMatch(
		/^two-pads\.yaml, line \d+, column \d+, steps\[7\]\.until: There is no observable "level\.devise"\./
	);
});

test('a formula and a blank are one word each; a point in a number ends no sentence', () => {
	expect(countWords('With $a + b + c$ it is {{displayed.R(169.5 MHz)}} now.')).toBe(6);
	expect(sentencesOf('It is 169.5 MHz here. Then it falls.')).toEqual([
		'It is 169.5 MHz here.',
		'Then it falls.'
	]);
});

test('every glossary entry is two sentences and has an id that can be linked', () => {
	for (const [id, { meaning }] of glossary) {
		expect(id).toMatch(/^[a-z0-9-]+$/);
		expect(meaning.match(/[.](?= [A-Z0-9]|$)/g), id).toHaveLength(2);
	}
});
