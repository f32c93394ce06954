import {
	add,
	argument,
	at,
	complex,
	complexArray,
	divide,
	magnitude,
	multiply,
	ONE,
	polar,
	put,
	subtract,
	ZERO
} from '#lib/numeric/complex.ts';
import type { Complex, ComplexArray } from '#lib/numeric/complex.ts';
import { dbFromPower, dbFromRatio, ratioFromDb } from '#lib/numeric/decibel.ts';
import type { Reals } from '#lib/numeric/reals.ts';
import type { Surroundings } from '#lib/circuit/reduced-network.ts';
import { gammaFromImpedance } from '#lib/network/impedance.ts';
import { portErrorTerms } from '#lib/reflectometer/error-terms.ts';
import type { Termination } from './device-schema.ts';
import type { Part } from './part-schema.ts';
import { partsTwoPort } from './plant.ts';
import type { Port, Source } from './setup.ts';

/** Everything before the device, seen from its connector: a source of some reflection that sends some wave. */
interface Seen {
	/** Its reflection. */
	readonly gamma: ComplexArray;
	/** The wave it sends into 50 Ω, for a wave of one that the reflectometer's source sends into 50 Ω. */
	readonly through: ComplexArray;
}

/** A line of parts behind a port, as the device sees it (Pozar, *Microwave Engineering*, 4th ed., 2012, section 4.5). */
function seenFromDevice(parts: readonly Part[], port: Port, frequencies: Reals): Seen {
	const length = frequencies.length;
	const { s11, s12, s21, s22 } = partsTwoPort(parts, frequencies);
	const match = portErrorTerms(port, frequencies).sourceMatch;
	const gamma = complexArray(length);
	const through = complexArray(length);
	for (let i = 0; i < length; i++) {
		const loop = divide(ONE, subtract(ONE, multiply(at(match, i), at(s11, i))));
		const out = multiply(at(s21, i), loop);
		put(through, i, out);
		put(gamma, i, add(at(s22, i), multiply(multiply(at(s12, i), at(match, i)), out)));
	}
	return { gamma, through };
}

/** What is at the output, as a reflection; a reactance carries no direct current. */
function outputGamma(output: Termination, harmonic: number): Complex {
	if (output.kind !== 'impedance') return complex(output.kind === 'open' ? 1 : -1);
	return gammaFromImpedance(complex(output.resistance, harmonic === 0 ? 0 : output.reactance));
}

/**
 * The line and what ends the output of a front end, as its circuit is driven by them: at direct current, at every
 * harmonic of every frequency of a sweep, and in between. Each harmonic is worked out once, for all frequencies at once.
 */
export class SourceSide implements Surroundings {
	readonly frequencies: Reals;
	readonly #parts: readonly Part[];
	readonly #port: Port;
	readonly #output: Termination;
	readonly #ports: number;
	readonly #sourceHarmonics: Source['harmonics'];
	readonly #place: ReadonlyMap<number, number>;
	readonly #harmonics = new Map<number, Seen>();

	/** `ports`: of the front end. */
	constructor(
		parts: readonly Part[],
		port: Port,
		output: Termination,
		sourceHarmonics: Source['harmonics'],
		ports: number,
		frequencies: Reals
	) {
		this.#parts = parts;
		this.#port = port;
		this.#output = output;
		this.#sourceHarmonics = sourceHarmonics;
		this.#ports = ports;
		this.frequencies = frequencies;
		this.#place = new Map(Array.from(frequencies, (f, i) => [f, i]));
	}

	ends(harmonic: number, frequency: number): readonly Complex[] {
		const source = this.#at(harmonic, frequency).gamma;
		return Array.from({ length: this.#ports }, (_, port) => {
			if (port === 0) return harmonic === 0 ? complex(source.re) : source;
			return port === 1 ? outputGamma(this.#output, harmonic) : ZERO;
		});
	}

	/** The same at one frequency in Hz, whatever it is to the sweep. */
	endsAt = (frequency: number): readonly Complex[] =>
		frequency === 0 ? this.ends(0, 1) : this.ends(1, frequency);

	/** In step with the fundamental where it leaves the source; phases there are a designer's choice. */
	sourceHarmonic(harmonic: number, frequency: number): Complex {
		const { second, third } = this.#sourceHarmonics;
		const size = harmonic === 2 ? second : harmonic === 3 ? third : null;
		if (size === null) return ZERO;
		const fundamental = this.#at(1, frequency).through;
		if (magnitude(fundamental) === 0) return ZERO;
		const turned = polar(ratioFromDb(size) / magnitude(fundamental), -harmonic * argument(fundamental));
		return multiply(this.#at(harmonic, frequency).through, turned);
	}

	/** Level at the device into 50 Ω, dBm, at every frequency of the sweep, for the level the source sends at each. */
	levels(sent: Reals): Reals {
		const { re, im } = this.#seen(1).through;
		return sent.map((level, i) => level + dbFromPower(re[i] ** 2 + im[i] ** 2));
	}

	/** Level incident at a device of reflection `gamma`, dBm, at every frequency of the sweep, for the levels the source sends. */
	incident(sent: Reals, gamma: ComplexArray): Reals {
		const seen = this.#seen(1).gamma;
		return this.levels(sent).map((level, i) => {
			const loop = subtract(ONE, multiply(at(seen, i), at(gamma, i)));
			return level - dbFromRatio(magnitude(loop));
		});
	}

	#at(harmonic: number, frequency: number): { gamma: Complex; through: Complex } {
		const place = Number.isInteger(harmonic) ? this.#place.get(frequency) : undefined;
		const seen =
			place === undefined
				? seenFromDevice(this.#parts, this.#port, Float64Array.of(harmonic * frequency))
				: this.#seen(harmonic);
		return { gamma: at(seen.gamma, place ?? 0), through: at(seen.through, place ?? 0) };
	}

	#seen(harmonic: number): Seen {
		let seen = this.#harmonics.get(harmonic);
		if (seen === undefined) {
			const frequencies = this.frequencies.map((f) => harmonic * f);
			this.#harmonics.set(harmonic, (seen = seenFromDevice(this.#parts, this.#port, frequencies)));
		}
		return seen;
	}
}
