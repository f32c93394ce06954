import type { Draft } from 'immer';
import { z } from 'zod';
import { define } from './command.ts';
import { ceilingChange, device, termination } from './device-schema.ts';
import type { Device } from './device-schema.ts';
import { deviceCatalogue } from './device-catalogue.ts';
import { faults } from './faults.ts';
import { formatImpedance } from './impedance-name.ts';
import { damageOf } from './damage.ts';
import { withReplacement } from './history.ts';
import { identifier, label, quantity } from './schema-parts.ts';
import { switchesOf } from './switches.ts';

const names = deviceCatalogue.map((d) => d.name);
const resistance = quantity('resistance', { from: 0, to: 1e6 });
const reactance = quantity('resistance', { from: -1e6, to: 1e6 });
const limit = z.union([z.null(), quantity('level', { from: -120, to: 60 })], {
	error: 'Give a level such as -35 dBm, or null where the data sheet says nothing.'
});

/** What is at the end of the line, and behind it. */
export const deviceCommands = [
	define({
		name: 'choose device',
		label: 'Choose the device',
		schema: z.strictObject({ device: z.enum(names, { error: `Give one of: ${names.join(', ')}.` }) }),
		perform: (draft, { device: name }) => {
			const found = deviceCatalogue.find((d) => d.name === name);
			if (found) draft.device = found.device as Draft<Device>;
		}
	}),
	define({
		name: 'set device',
		label: 'Set an ideal load',
		schema: z.strictObject({ resistance, reactance }),
		perform: (draft, given) => {
			draft.device = { kind: 'impedance', name: `${formatImpedance(given)} load`, ...given };
		}
	}),
	define({
		name: 'import device',
		label: 'Put a measured device on the bench',
		schema: z.strictObject({ device }),
		perform: (draft, { device: given }) => {
			draft.device = given as Draft<Device>;
		}
	}),
	define({
		name: 'set ceiling',
		label: 'Set the ceiling of the device',
		schema: z.strictObject({ ceiling: limit }),
		perform: (draft, { ceiling }) => {
			if (draft.device.kind !== 'tabulated') throw faults['device-ceiling']({ name: draft.device.name });
			draft.device.ceiling = ceiling;
		}
	}),
	define({
		name: 'set ceiling change',
		label: 'Set what counts as over the ceiling',
		schema: z.strictObject({ change: ceilingChange }),
		perform: (draft, { change }) => {
			if (draft.device.kind !== 'circuit') throw faults['device-ceiling-change']({ name: draft.device.name });
			draft.device.ceilingChange = change;
		}
	}),
	define({
		name: 'set switch',
		label: 'Throw a switch of the device',
		schema: z.strictObject({ switch: label, position: label }),
		perform: (draft, { switch: name, position }) => {
			const { device } = draft;
			const known = switchesOf(device).map((each) => each.name);
			if (device.kind !== 'circuit' || !known.includes(name))
				throw faults['device-switch']({
					name: device.name,
					switch: name,
					allowed: known.join(', ') || 'none'
				});
			device.positions[name] = position;
		}
	}),
	define({
		name: 'renew part',
		label: 'Put a whole part in place of a broken one',
		schema: z.strictObject({ part: identifier }),
		perform: (_, { part }, history) => {
			const broken = damageOf(history.events).map((damage) => damage.part);
			if (!broken.includes(part))
				throw faults['part-whole']({ part, allowed: [...new Set(broken)].join(', ') || 'nothing' });
			return withReplacement(history, part);
		}
	}),
	define({
		name: 'set output',
		label: 'End the output',
		schema: termination,
		perform: (draft, given) => {
			draft.output = given;
		}
	})
];
