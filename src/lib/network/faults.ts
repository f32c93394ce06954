import { catalogue } from '#lib/fault.ts';

/** What can be wrong with the parts between instrument and device. */
export const faults = catalogue({
	'pad-attenuation': {
		place: 'pad',
		finding: 'An attenuation of {attenuationDb} dB is not a number from zero up.',
		remedy: 'Give the attenuation as a positive number of decibels, such as 10 dB.'
	},
	'cable-loss-frequencies': {
		place: 'cable loss',
		finding: 'The two losses are given at {lower} Hz and {upper} Hz.',
		remedy: 'Give the loss at two different frequencies above zero, the lower one first.'
	},
	'cable-loss-negative': {
		place: 'cable loss',
		finding: 'The loss at {frequency} Hz is {lossDb} dB per 100 m.',
		remedy: 'A passive cable loses power: give zero or a positive number of decibels.'
	},
	'cable-loss-slow': {
		place: 'cable loss',
		finding:
			'From {lower} Hz to {upper} Hz the loss grows {ratio} times, more slowly than the square root of frequency ({least} times).',
		remedy:
			'Check the two values in the data sheet; a real cable grows at least {least} times over this range.'
	},
	'cable-loss-fast': {
		place: 'cable loss',
		finding:
			'From {lower} Hz to {upper} Hz the loss grows {ratio} times, faster than in proportion to frequency ({most} times).',
		remedy: 'Check the two values in the data sheet; a real cable grows at most {most} times over this range.'
	}
});
