import type { CommandRecord } from '#lib/bench/command.ts';

/** What a control does: one act, or a drag that ends in a drop or is taken back. */
export interface Hands {
	readonly oncommand: (command: CommandRecord) => void;
	readonly ondrag: (command: CommandRecord) => void;
	readonly ondrop: () => void;
	readonly onbail: () => void;
}

/** A calibration that was made on this bench. */
export interface MadeCalibration {
	readonly id: string;
	readonly plane: number;
	readonly averages: number;
}

export interface CatalogueChoice {
	readonly name: string;
	readonly label: string;
	/** What it is, where its name does not say it. */
	readonly description?: string;
}
