import { z } from 'zod';
import { define } from './command.ts';
import { faults } from './faults.ts';
import { calibrations } from './calibrations.ts';
import { MOST_CALIBRATIONS, withCalibration } from './history.ts';
import { wholeNumber } from './schema-parts.ts';
import { MOST_AVERAGES, MOST_PARTS, setup } from './setup.ts';
import { original } from 'immer';
import type { Setup } from './setup.ts';

const { shape } = setup;

/** Measuring the standards, and choosing which calibration corrects the readings. */
export const calibrationCommands = [
	define({
		name: 'calibrate',
		label: 'Use the new calibration',
		schema: z.strictObject({
			plane: wholeNumber('a plane', { from: 0, to: MOST_PARTS }),
			averages: wholeNumber('the number of averages', { from: 1, to: MOST_AVERAGES })
		}),
		perform: (draft, { plane, averages }, history) => {
			if (plane > draft.parts.length) throw faults['calibration-plane']({ plane, last: draft.parts.length });
			if (history.setups.length >= MOST_CALIBRATIONS)
				throw faults['calibration-count']({ allowed: MOST_CALIBRATIONS });
			const done = withCalibration(history, original(draft) as Setup, plane, averages);
			// an extension counts from the plane it was set for
			const used = calibrations(history).find((c) => c.id === draft.processing.calibration);
			if (used === undefined || used.plane !== plane) draft.processing.extension = { delay: 0, loss: 0 };
			draft.processing.calibration = done.calibration;
			return done.history;
		}
	}),
	define({
		name: 'use calibration',
		label: 'Choose a calibration',
		schema: z.strictObject({ calibration: shape.processing.shape.calibration }),
		perform: (draft, { calibration }, history) => {
			const made = calibrations(history).map((c) => c.id);
			if (calibration !== null && !made.includes(calibration))
				throw faults['calibration-unknown']({
					id: calibration,
					allowed: made.join(', ') || 'no calibration yet'
				});
			draft.processing.calibration = calibration;
		}
	})
];
