import { faults } from './faults.ts';
import type { LineSection } from './line.ts';

/** Loss as a catalogue states it: dB per 100 m at a frequency in Hz. */
export interface CatalogueLoss {
	readonly frequency: number;
	readonly lossDb: number;
}

/** Decibels in a neper. */
const DB_PER_NEPER = 20 / Math.LN10;
/** Catalogue values are rounded; a coefficient below zero by less than this part of the loss counts as zero. */
const ROUNDING = 1e-9;

/**
 * Conductor and dielectric loss of a cable, as in `LineSection`, from its catalogue loss at two frequencies, the lower
 * one first: α(f) = conductorLoss·√f + dielectricLoss·f passes through both.
 * Throws `cable-loss-frequencies`, `cable-loss-negative`, `cable-loss-slow` (a dielectric that gains) or
 * `cable-loss-fast` (conductors that gain).
 */
export function lossCoefficients(
	low: CatalogueLoss,
	high: CatalogueLoss
): { conductorLoss: number; dielectricLoss: number } {
	const lower = low.frequency;
	const upper = high.frequency;
	if (!(lower > 0 && upper > lower && Number.isFinite(upper))) {
		throw faults['cable-loss-frequencies']({ lower, upper });
	}
	for (const loss of [low, high])
		if (!(loss.lossDb >= 0 && Number.isFinite(loss.lossDb))) {
			throw faults['cable-loss-negative']({ frequency: loss.frequency, lossDb: loss.lossDb });
		}
	const most = upper / lower;
	const least = Math.sqrt(most);
	// the share of the high loss that each law would take alone, from a straight line in √f of loss/√f
	const dielectric = high.lossDb - low.lossDb * least;
	const conductor = low.lossDb * most - high.lossDb;
	const slack = ROUNDING * high.lossDb;
	const blanks = {
		lower,
		upper,
		ratio: (high.lossDb / low.lossDb).toPrecision(3),
		least: least.toPrecision(3),
		most: most.toPrecision(3)
	};
	if (dielectric < -slack) throw faults['cable-loss-slow'](blanks);
	if (conductor < -slack) throw faults['cable-loss-fast'](blanks);
	const nepers = 1 / (100 * DB_PER_NEPER);
	return {
		conductorLoss: (Math.max(0, conductor) / (most - least) / Math.sqrt(lower)) * nepers,
		dielectricLoss: (Math.max(0, dielectric) / (most - least) / lower) * nepers
	};
}

/** A cable as its catalogue describes it; `length` in m, `characteristicImpedance` in Ω. */
export interface Cable {
	readonly characteristicImpedance: number;
	readonly length: number;
	readonly velocityFactor: number;
	readonly loss: readonly [CatalogueLoss, CatalogueLoss];
}

/** The cable as a line section; throws as `lossCoefficients` does. */
export const cableLine = ({ characteristicImpedance, length, velocityFactor, loss }: Cable): LineSection => ({
	characteristicImpedance,
	length,
	velocityFactor,
	...lossCoefficients(loss[0], loss[1])
});
