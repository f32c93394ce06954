import type { Draft } from 'immer';
import { z } from 'zod';
import { define } from './command.ts';
import { faults } from './faults.ts';
import { newPart } from './part-catalogue.ts';
import { adapterSettings, cableSettings, padSettings } from './part-schema.ts';
import type { PartKind } from './part-schema.ts';
import { identifier } from './schema-parts.ts';
import { MOST_PARTS } from './setup.ts';
import type { Setup } from './setup.ts';

const kind = z.enum(['pad', 'cable', 'adapter'], { error: 'Give a kind of part: pad, cable or adapter.' });

/** Any setting of any part; which of them a part has is checked when its kind is known. */
const settings = z.strictObject({ ...padSettings, ...cableSettings, ...adapterSettings }).partial();

const settingsOf: Readonly<Record<PartKind, readonly string[]>> = {
	pad: Object.keys(padSettings),
	cable: Object.keys(cableSettings),
	adapter: ['impedance', 'length', 'velocityFactor', 'sections']
};

const indexOf = (draft: Draft<Setup>, id: string): number => {
	const index = draft.parts.findIndex((p) => p.id === id);
	if (index < 0)
		throw faults['part-unknown']({ id, allowed: draft.parts.map((p) => p.id).join(', ') || 'no parts' });
	return index;
};

/** Building the line, and settings of its parts. */
export const partCommands = [
	define({
		name: 'set part',
		label: 'Change a part',
		schema: z.strictObject({ part: identifier, ...settings.shape }),
		perform: (draft, { part: id, ...given }) => {
			const part = draft.parts[indexOf(draft, id)];
			for (const [setting, value] of Object.entries(given)) {
				if (value === undefined) continue;
				if (!settingsOf[part.kind].includes(setting))
					throw faults['part-setting']({
						id,
						setting,
						kind: part.kind,
						allowed: settingsOf[part.kind].join(', ')
					});
				// an adapter's plain settings are those of its first section
				const target = part.kind === 'adapter' && setting !== 'sections' ? part.sections[0] : part;
				Object.assign(target, { [setting]: value });
			}
		}
	}),
	define({
		name: 'add part',
		label: 'Add a part',
		schema: z.strictObject({ kind, after: identifier }),
		perform: (draft, { kind: added, after }) => {
			if (draft.parts.length >= MOST_PARTS)
				throw faults['part-count']({ found: draft.parts.length, allowed: MOST_PARTS });
			const place = after === 'reflectometer' ? 0 : indexOf(draft, after) + 1;
			draft.parts.splice(
				place,
				0,
				newPart(
					added,
					draft.parts.map((p) => p.id)
				) as Draft<Setup>['parts'][number]
			);
		}
	}),
	define({
		name: 'remove part',
		label: 'Remove a part',
		schema: z.strictObject({ part: identifier }),
		perform: (draft, { part: id }) => {
			draft.parts.splice(indexOf(draft, id), 1);
		}
	}),
	define({
		name: 'replace part',
		label: 'Swap a part',
		schema: z.strictObject({ part: identifier, kind }),
		perform: (draft, { part: id, kind: other }) => {
			const others = draft.parts.filter((p) => p.id !== id).map((p) => p.id);
			draft.parts[indexOf(draft, id)] = newPart(other, others) as Draft<Setup>['parts'][number];
		}
	})
];
