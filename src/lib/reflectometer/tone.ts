import { wattsFromDbm } from '#lib/numeric/decibel.ts';

/** A sine wave as power meters see it. */
export interface Tone {
	/** Hz. */
	readonly frequency: number;
	readonly watts: number;
}

/**
 * A fundamental of `dbm` at `frequency` Hz and its harmonics: element k of `harmonicsDb` is the (k + 2)-nd against the
 * fundamental, dB; null or −Infinity for none.
 */
export function tonesOf(
	frequency: number,
	dbm: number,
	harmonicsDb: readonly (number | null)[]
): readonly Tone[] {
	const tone = (multiple: number, db: number): Tone => ({
		frequency: multiple * frequency,
		watts: wattsFromDbm(dbm + db)
	});
	return [tone(1, 0), ...harmonicsDb.map((db, k) => tone(k + 2, db ?? -Infinity))];
}

/** Power of all of them together: tones of different frequencies add as powers, whatever their phases. */
export const totalPower = (tones: readonly Tone[]): number =>
	tones.reduce((sum, { watts }) => sum + watts, 0);
