/** What is running: sweeps are numbered on, and averages fill up to the number that is set. */
export interface RunState {
	readonly running: boolean;
	/** Whether what is shown is still of the bench as it was. */
	readonly working: boolean;
	/** The number of the last sweep taken. */
	readonly sweep: number;
	readonly averagesTaken: number;
	readonly averages: number;
}

export const runWords = ({ running, working, sweep }: RunState): string =>
	working
		? 'Working out the levels…'
		: `${running ? 'Running' : 'Paused'}${running ? ',' : ' at'} sweep ${sweep}`;

export const averagesWords = ({ averagesTaken, averages }: RunState): string =>
	`${Math.min(averagesTaken, averages)} of ${averages} ${averages === 1 ? 'average' : 'averages'}`;
