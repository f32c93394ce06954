import { catalogue } from '#lib/fault.ts';

/** What can be wrong with the readings of a reflectometer. */
export const faults = catalogue({
	'calibration-standards-alike': {
		place: 'calibration at {frequency} Hz',
		finding: 'The {first} and the {second} standard have the same reflection there.',
		remedy: 'Three different reflections are needed: change the definition of a standard, or the frequencies.'
	},
	'calibration-readings-alike': {
		place: 'calibration at {frequency} Hz',
		finding: 'The readings of the {first} and the {second} standard do not differ there.',
		remedy: 'Check that the signal reaches the standards and comes back: less attenuation, or a higher level.'
	},
	'calibration-unsolvable': {
		place: 'calibration at {frequency} Hz',
		finding: 'The readings of the three standards fit no reflectometer.',
		remedy: 'Measure the standards again with more averages, and look for a reading that is not a number.'
	},
	'calibration-standards-few': {
		place: 'calibration at {frequency} Hz',
		finding: 'Of the {count} standards only {different} have different reflections there.',
		remedy: 'Three different reflections are needed: measure one more standard, or change a definition.'
	},
	'calibration-readings-few': {
		place: 'calibration at {frequency} Hz',
		finding: 'Of the readings of the {count} standards only {different} differ there.',
		remedy: 'Check that the signal reaches the standards and comes back: less attenuation, or a higher level.'
	},
	'calibration-variance': {
		place: 'calibration at {frequency} Hz',
		finding: 'The variance predicted for the reading of standard {number} is {variance}.',
		remedy: 'Give every reading a variance above zero: a receiver has a noise floor.'
	},
	'calibration-no-fit': {
		place: 'calibration at {frequency} Hz',
		finding: 'The readings of the {count} standards fit no reflectometer.',
		remedy: 'Measure the standards again with more averages, and look for a reading that is not a number.'
	}
});
