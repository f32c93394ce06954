import { z } from 'zod';
import { define } from './command.ts';
import { receiverFlaws, setup, sourceFlaws } from './setup.ts';

const shape = setup.shape;

/** Settings of the reflectometer and of what is done with its readings. */
export const settingCommands = [
	define({
		name: 'set level',
		label: 'Set the source level',
		schema: z.strictObject({ level: shape.source.shape.level }),
		perform: (draft, { level }) => {
			draft.source.level = level;
		}
	}),
	define({
		name: 'set bandwidth',
		label: 'Set the bandwidth',
		schema: z.strictObject({ bandwidth: shape.receiver.shape.bandwidth }),
		perform: (draft, { bandwidth }) => {
			draft.receiver.bandwidth = bandwidth;
		}
	}),
	define({
		name: 'set averages',
		label: 'Set the averages',
		schema: z.strictObject({ averages: shape.processing.shape.averages }),
		perform: (draft, { averages }) => {
			draft.processing.averages = averages;
		}
	}),
	define({
		name: 'set source flaws',
		label: 'Make the source as bad as it is',
		schema: z.strictObject(sourceFlaws).partial(),
		perform: (draft, given) => {
			Object.assign(draft.source, given);
		}
	}),
	define({
		name: 'set receiver flaws',
		label: 'Make the receiver as bad as it is',
		schema: z.strictObject(receiverFlaws).partial(),
		perform: (draft, given) => {
			Object.assign(draft.receiver, given);
		}
	}),
	define({
		name: 'set sweep',
		label: 'Set the sweep',
		schema: z.strictObject(shape.sweep.shape).partial(),
		perform: (draft, given) => {
			Object.assign(draft.sweep, given);
		}
	}),
	define({
		name: 'set extension',
		label: 'Move the reference plane',
		schema: z.strictObject(shape.processing.shape.extension.shape).partial(),
		perform: (draft, given) => {
			Object.assign(draft.processing.extension, given);
		}
	}),
	define({
		name: 'set seed',
		label: 'Set the seed',
		schema: z.strictObject({ seed: shape.seed }),
		perform: (draft, { seed }) => {
			draft.seed = seed;
		}
	}),
	define({
		name: 'rename bench',
		label: 'Rename the bench',
		schema: z.strictObject({ name: shape.name }),
		perform: (draft, { name }) => {
			draft.name = name;
		}
	})
];
