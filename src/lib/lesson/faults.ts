import { catalogue } from '#lib/fault.ts';

/** What can be wrong with a lesson script, an answer or a learner's record, and how to mend it. */
export const faults = catalogue({
	'lesson-size': {
		place: '{place}',
		finding: 'The lesson is {found} characters long; {limit} are allowed.',
		remedy: 'Split it into two lessons.'
	},
	'lesson-yaml': {
		place: '{place}',
		finding: 'This is not plain YAML: {found}.',
		remedy: 'Mend the line; texts with a colon, a brace or a hash sign go in a block after "|".'
	},
	'lesson-yaml-extra': {
		place: '{place}',
		finding: 'There is {found}, which a lesson does without.',
		remedy: 'Write out in plain what is meant.'
	},
	'lesson-depth': {
		place: '{place}',
		finding: 'The file is nested too deeply to be read.',
		remedy: 'A lesson nests some eight levels; remove the brackets or dashes that pile up.'
	},
	'lesson-key': {
		place: '{place}',
		finding: 'The key "{found}" is not allowed in a lesson.',
		remedy: 'Give it another name.'
	},
	'lesson-format-missing': {
		place: '{place}',
		finding: 'The lesson does not say which format it is written in.',
		remedy: 'Begin the file with "format: {known}".'
	},
	'lesson-format-newer': {
		place: '{place}',
		finding: 'The lesson is written in format {found}; this program reads format {known}.',
		remedy: 'Open it with a newer Faint Echo.'
	},
	'lesson-format-older': {
		place: '{place}',
		finding:
			'The lesson is written in format {found}, which was never published; this program reads format {known}.',
		remedy: 'Compare it with lessons/README.md and set "format: {known}".'
	},
	'lesson-schema': {
		place: '{place}',
		finding: '{found}.',
		remedy: 'See lessons/README.md for the form of this part.'
	},
	'expression-length': {
		place: '{place}',
		finding: 'The expression is {found} characters long; {limit} are allowed.',
		remedy: 'Split it, or keep a part of it in an earlier step with "keep:".'
	},
	'expression-character': {
		place: '{place}',
		finding: 'The character "{found}" has no place in an expression.',
		remedy: 'Use plain letters, digits and + - * / ( ) < > = ! , . and quotes.'
	},
	'expression-syntax': {
		place: '{place}',
		finding: 'The expression "{expression}" cannot be read: {found}.',
		remedy: 'Write it like "level.device < -35 dBm and displayed.R(169.5 MHz) > 40 ohm".'
	},
	'expression-node': {
		place: '{place}',
		finding: '"{found}" is not allowed in an expression.',
		remedy: 'Allowed are comparisons, and, or, not, + - * /, abs, min, max, quantities and observables.'
	},
	'expression-nodes': {
		place: '{place}',
		finding: 'The expression has more than {limit} parts.',
		remedy: 'Split it, or keep a part of it in an earlier step with "keep:".'
	},
	'expression-number': {
		place: '{place}',
		finding: 'The number {found} is not finite.',
		remedy: 'Write a number below 1e300.'
	},
	'expression-unit': {
		place: '{place}',
		finding: '"{found}" is not a unit known here.',
		remedy: 'Use a unit such as MHz, kHz, dBm, dB, ohm, ps, ns, mm; dBm and dB differ.'
	},
	'expression-name': {
		place: '{place}',
		finding: '"{found}" is not a name an observable can have.',
		remedy: 'Names are letters and digits, joined by points: "level.device".'
	},
	'expression-arguments': {
		place: '{place}',
		finding: '"{name}" was given {found}; it takes {expected}.',
		remedy: 'Write it as "{example}".'
	},
	'expression-argument': {
		place: '{place}',
		finding: 'The argument of "{name}" is something to be worked out.',
		remedy: 'Give a quantity or a text in quotes, such as "169.5 MHz".'
	},
	'expression-kinds': {
		place: '{place}',
		finding: 'In "{expression}", {left} and {right} do not go together with "{operator}".',
		remedy: 'Use quantities of one kind; a plain number needs its unit, as in "40 ohm".'
	},
	'expression-kind': {
		place: '{place}',
		finding: '"{expression}" is {found}; {expected} is needed here.',
		remedy: 'Change the expression, or the unit of the question.'
	},
	'expression-value': {
		place: '{place}',
		finding: 'A part of the expression is {found} where {expected} is needed.',
		remedy: 'Check the lesson with "faint-echo lesson FILE".'
	},
	'lesson-observable-unknown': {
		place: '{place}',
		finding: 'There is no observable "{found}".',
		remedy: '{suggestion}'
	},
	'lesson-command-unknown': {
		place: '{place}',
		finding: 'There is no bench command "{found}".',
		remedy: '{suggestion}'
	},
	'answer-form': {
		place: '{place}',
		finding: 'The answer {found} does not fit the question.',
		remedy: '{expected}'
	},
	'answer-none': {
		place: '{place}',
		finding: 'This step asks nothing.',
		remedy: 'Go on to the next step.'
	},
	'answer-ink': {
		place: '{place}',
		finding: 'The answer to this step already stands in ink.',
		remedy: 'Go on; ink is never overwritten.'
	},
	'step-waiting': {
		place: '{place}',
		finding: 'The step is not done yet.',
		remedy: '{remedy}'
	},
	'hint-none': {
		place: '{place}',
		finding: 'There is no further hint.',
		remedy: 'Go on with what the hints above say.'
	},
	'record-form': {
		place: '{place}',
		finding: 'The saved lesson cannot be read: {found}.',
		remedy: 'Keep the file, and begin the lesson afresh.'
	},
	'record-version': {
		place: '{place}',
		finding: 'The saved lesson has version {found}; this program reads version {known}.',
		remedy: 'Keep the file, and open it with a newer Faint Echo.'
	},
	'record-step': {
		place: '{place}',
		finding: 'The saved lesson stands at step "{found}", which the lesson no longer has.',
		remedy: 'Keep the record, and begin the lesson afresh.'
	},
	'check-finding': {
		place: '{place}',
		finding: '{found}',
		remedy: '{remedy}'
	}
});
