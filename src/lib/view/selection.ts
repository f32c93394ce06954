/** What is chosen on the bench: `reflectometer`, `device`, `output`, `reference plane`, or a part as `part:<id>`. */
export type Selection = string;

export const partSelection = (id: string): Selection => `part:${id}`;

/** The id of the part that is chosen, or null if something else is. */
export const selectedPart = (selection: Selection | null): string | null =>
	selection?.startsWith('part:') ? selection.slice('part:'.length) : null;
