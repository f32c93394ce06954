import { catalogue } from '#lib/fault.ts';

export const faults = catalogue({
	'worker-late': {
		place: 'simulation',
		finding: 'The work took longer than {seconds} s and was stopped.',
		remedy: 'Ask for fewer points or fewer averages.'
	},
	'worker-cancelled': {
		place: 'simulation',
		finding: 'The work was cancelled.',
		remedy: 'Start it again if it is still wanted.'
	},
	'worker-failed': {
		place: 'simulation',
		finding: 'It stopped with an error of its own: {problem}.',
		remedy: 'The bench is kept. Undo the last change, and report the fault.'
	},
	'worker-given-up': {
		place: 'simulation',
		finding: 'It has ended {times} times in a row. {problem}',
		remedy: 'The bench is kept. Undo the last change; the simulation is tried again with the next one.'
	},
	'worker-silent': {
		place: 'simulation',
		finding: 'It has not answered for {seconds} s.',
		remedy: 'It has been started again with the bench as it is. If this happens again, undo the last change.'
	}
});
