import type { Complex, ComplexArray } from '#lib/numeric/complex.ts';
import type { Reals } from '#lib/numeric/reals.ts';
import type { Damage } from './history.ts';
import type { Covariance, Ellipse } from '#lib/numeric/statistics.ts';

/** The three frequencies that are always read: the two edges of the sweep and its centre. */
export type MarkerPlace = 'low' | 'centre' | 'high';

/** What one marker shows, at the reference plane. */
export interface MarkerReading {
	readonly place: MarkerPlace;
	/** Hz */
	readonly frequency: number;
	/** The averaged reading. */
	readonly gamma: Complex;
	/** What the reading would be without receiver noise in this measurement (calibration noise stays in it). */
	readonly expected: Complex;
	/** The device's exact Γ at its own connector, as it answers to a level too small to move it. */
	readonly truth: Complex;
	/** Its exact Γ at the present level; the same for a device that drive does not move. NaN where no state is found. */
	readonly driven: Complex;
	/** Ω of the averaged reading; infinite for Γ = 1. */
	readonly impedance: Complex;
	/** dB, positive for a passive device. */
	readonly returnLossDb: number;
	/** to 1; infinite where |Γ| ≥ 1. */
	readonly swr: number;
	/** Scatter of single readings. */
	readonly scatter: Covariance;
	/** 95 % region of the average; null until three sweeps have been taken. */
	readonly region: Ellipse | null;
	/** 95 % size of the cloud in Γ (semi-major axis): of single readings and of the average; null as above. */
	readonly spreadSingle: number | null;
	readonly spreadAverage: number | null;
	/** Whether Γ turns by more than 20° from one point to the next here, so that a value between two is a guess. */
	readonly coarse: boolean;
	/** The latest single readings, oldest first. */
	readonly cloud: ComplexArray;
}

/**
 * Levels in dBm at planes 0…N at one marker's frequency. Plane k lies behind part k; plane 0 is the instrument's port,
 * plane N the device's connector. −Infinity where nothing returns at all.
 */
export interface LevelDiagram {
	readonly outgoing: readonly number[];
	readonly returning: readonly number[];
	/** The device's ceiling referred to each plane; null if the device states none. */
	readonly ceiling: readonly number[] | null;
	/** The level that breaks the device, referred to each plane; null if none is known. */
	readonly breaking: readonly number[] | null;
	/** The receiver floor of one reading, referred to each plane. */
	readonly floorSingle: readonly number[];
	/** The same with the averages taken so far. */
	readonly floor: readonly number[];
	/** dB, of the device at its connector. */
	readonly returnLossDb: number;
	/** Ceiling minus outgoing level at the device, dB; negative means too loud. Null without a ceiling. */
	readonly ceilingMargin: number | null;
	/** Breaking level minus outgoing level at the device, dB; negative means that it breaks. Null where none is known. */
	readonly breakingMargin: number | null;
	/** How far the device's own echo is above the averaged floor, dB: both taken at the device's plane. */
	readonly floorMargin: number;
}

/** How a front end answers at one frequency as the level rises, exactly: what the truth does against drive. */
export interface DriveCurve {
	/** Incident levels at the device's connector in dBm, rising; they end where no state is found any more. */
	readonly levels: Reals;
	readonly gamma: ComplexArray;
	/** Of a two-port: power into what ends its output against the power incident at its connector, dB. */
	readonly gainDb: Reals | null;
	/** Γ at rest. */
	readonly rest: Complex;
	/** Incident level in dBm at which |ΔΓ| from rest reaches the change that is set; null if it never does. */
	readonly ceiling: number | null;
	/** Incident level at which the gain has fallen by 1 dB; null if it never does, or there is no gain. */
	readonly compression: number | null;
	/** Incident level at which an absolute maximum is reached; null if it never is. */
	readonly breaking: number | null;
	/** False if the curve ends where no state was found any more: what lies above its last level is not known. */
	readonly followed: boolean;
}

export interface PictureMarker {
	readonly reading: MarkerReading;
	readonly levels: LevelDiagram;
	/** Null for a device whose circuit is not known or that does not move. */
	readonly drive: DriveCurve | null;
}

/** Why a bench shows no reading at all. */
export type Silence =
	/** The device and what is connected to it oscillate by themselves, near this frequency in Hz. */
	| { readonly kind: 'oscillating'; readonly frequency: number }
	/** Its transmitter is keyed; `level` in dBm is what meets the reflectometer's port. */
	| { readonly kind: 'transmitting'; readonly level: number }
	/** A device known only by its data sheet has been broken: what it presents now is not known. */
	| { readonly kind: 'broken' };

/** Frequencies at which no state of the device was found, or only one it does not stay in: no reading there. */
export interface LostPoints {
	readonly count: number;
	/** The first, Hz. */
	readonly frequency: number;
	readonly reason: 'not found' | 'unstable';
}

/** How the displayed values were corrected. */
export type CorrectionState =
	| { readonly kind: 'none' }
	| {
			readonly kind: 'calibration';
			readonly id: string;
			/** The plane it was made at. */
			readonly plane: number;
			/** Whether port, standards or the parts before that plane are no longer what they were then. */
			readonly lineChanged: boolean;
			/** How the calibration's frequencies fit the sweep's. */
			readonly fit: 'same' | 'interpolated' | 'outside';
	  };

/** Everything a screen, a lesson or the command line shows of one moment of a bench. Plain data, transferable. */
export interface Picture {
	/** The revision of the setup it was computed from. */
	readonly revision: number;
	/** Hz */
	readonly frequencies: Reals;
	/** Averaged reading at the reference plane, one value a frequency. */
	readonly displayed: ComplexArray;
	/** The same without receiver noise in this measurement. */
	readonly expected: ComplexArray;
	/** The device's exact Γ at its own connector, at a level too small to move it. */
	readonly truth: ComplexArray;
	/** The same at the present level; NaN where no state is found. */
	readonly driven: ComplexArray;
	readonly lost: LostPoints | null;
	readonly silence: Silence | null;
	/** What breaks at this level; the picture then ends with its first sweep. */
	readonly damage: Damage | null;
	/** low, centre, high; with a single frequency all three are equal. */
	readonly markers: readonly [PictureMarker, PictureMarker, PictureMarker];
	/** One-way delay from plane 0 to each plane, seconds. */
	readonly planeDelays: readonly number[];
	readonly correction: CorrectionState;
	/** First sweep number of the run, how many were taken, and how many independent readings the average is worth. */
	readonly firstSweep: number;
	readonly sweepsTaken: number;
	readonly effectiveAverages: number;
	/** Whether the device's data had to be held at the edge of its band. */
	readonly deviceOutsideBand: boolean;
}
