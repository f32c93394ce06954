import {
	add,
	complex,
	divide,
	exponential,
	multiply,
	ONE,
	scale,
	squareRoot,
	subtract
} from '#lib/numeric/complex.ts';
import type { Complex } from '#lib/numeric/complex.ts';
import type { Reals } from '#lib/numeric/reals.ts';
import { stampEnds } from './equations.ts';
import type { Ends, Equations, LinePlace } from './equations.ts';
import type { Capacitor } from './netlist.ts';

/** Reference impedance of the waves at every port, Ω. */
export const REFERENCE = 50;

/**
 * The least 1 − G of an end at direct current: no end is quite open there. Some 1e-18 S is left, far less than any
 * junction has, so that a port behind capacitors has a voltage.
 */
const LEAST_DIRECT = 1e-16;

/**
 * Writes the matrix of the circuit without its devices at angular frequency `omega` (0 for direct current) into `re`
 * and `im`, rows `width` apart; what stood there is overwritten, columns from `equations.size` on become zero.
 * `ends` holds what is connected to each port, as its reflection coefficient G in 50 Ω: the port's equation is
 * (1 − G)·V + 50·(1 + G)·I = e with I into the circuit and e twice the voltage the connected source would put across
 * 50 Ω. So an open (G = 1), a short (G = −1) and any Thévenin source are equally good.
 */
export function fill(
	equations: Equations,
	omega: number,
	ends: readonly Complex[],
	re: Reals,
	im: Reals,
	width: number
): void {
	const { size, conductance, capacitance, lossy, lines, ports } = equations;
	for (let i = 0; i < size; i++) {
		const row = i * width;
		for (let j = 0; j < size; j++) {
			re[row + j] = conductance[i * size + j];
			im[row + j] = omega * capacitance[i * size + j];
		}
		for (let j = size; j < width; j++) re[row + j] = im[row + j] = 0;
	}
	for (const { capacitor, ends: place } of lossy) {
		const admittance = admittanceOf(capacitor, omega);
		stampEnds(re, width, place, admittance.re);
		stampEnds(im, width, place, admittance.im);
	}
	for (const line of lines) fillLine(line, omega, re, im, width);
	ports.forEach(({ voltage, current }, i) => {
		const row = current * width;
		const g = ends[i];
		re[row + voltage] += omega === 0 ? Math.max(1 - g.re, LEAST_DIRECT) : 1 - g.re;
		im[row + voltage] -= g.im;
		re[row + current] += REFERENCE * (1 + g.re);
		im[row + current] += REFERENCE * g.im;
	});
}

/**
 * The two equations of a line: the wave that leaves one end is the one that entered the other, e^(−γl) later:
 * V − Zc·I = e^(−γl)·(V' + Zc·I') both ways (Pozar, *Microwave Engineering*, 4th ed., 2012, section 2.1). For direct
 * current a uniform line is its series resistance.
 */
function fillLine(place: LinePlace, omega: number, re: Reals, im: Reals, width: number): void {
	const { line, near, far, nearCurrent, farCurrent } = place;
	if (omega === 0) {
		const resistance = line.kind === 'ideal line' ? 0 : line.resistancePerMetre * line.length;
		addVoltage(re, im, nearCurrent * width, near, ONE);
		addVoltage(re, im, nearCurrent * width, far, complex(-1));
		re[nearCurrent * width + nearCurrent] -= resistance;
		re[farCurrent * width + nearCurrent] += 1;
		re[farCurrent * width + farCurrent] += 1;
		return;
	}
	const { impedance, travel } = lineAt(place.line, omega);
	const back = scale(travel, -1);
	const rows = [
		[nearCurrent, near, far, nearCurrent, farCurrent],
		[farCurrent, far, near, farCurrent, nearCurrent]
	] as const;
	for (const [equation, here, there, current, other] of rows) {
		const row = equation * width;
		addVoltage(re, im, row, here, ONE);
		addVoltage(re, im, row, there, back);
		addTo(re, im, row + current, scale(impedance, -1));
		addTo(re, im, row + other, multiply(back, impedance));
	}
}

/** Admittance of a capacitor with its series resistance, S. */
export function admittanceOf({ capacitance, seriesResistance }: Capacitor, omega: number): Complex {
	const x = omega * capacitance;
	const t = x * seriesResistance;
	const share = x / (1 + t * t);
	return complex(share * t, share);
}

/** Characteristic impedance and e^(−γl) of a line at an `omega` above 0. */
export function lineAt(line: LinePlace['line'], omega: number): { impedance: Complex; travel: Complex } {
	if (line.kind === 'ideal line')
		return {
			impedance: complex(line.characteristicImpedance),
			travel: exponential(complex(0, -omega * line.delay))
		};
	const series = complex(line.resistancePerMetre, omega * line.inductancePerMetre);
	const shunt = complex(0, omega * line.capacitancePerMetre);
	return {
		impedance: squareRoot(divide(series, shunt)),
		travel: exponential(scale(squareRoot(multiply(series, shunt)), -line.length))
	};
}

function addTo(re: Reals, im: Reals, place: number, value: Complex): void {
	re[place] += value.re;
	im[place] += value.im;
}

function addVoltage(re: Reals, im: Reals, row: number, { plus, minus }: Ends, factor: Complex): void {
	if (plus >= 0) addTo(re, im, row + plus, factor);
	if (minus >= 0) addTo(re, im, row + minus, scale(factor, -1));
}

/** The reflection coefficient of a matched end, which is also that of a 50 Ω source. */
export const matched = (ports: number): readonly Complex[] => Array.from({ length: ports }, () => complex(0));

/** Wave quantities of a port from its voltage and the current into it: (V − 50·I)/(V + 50·I). */
export const reflectionOf = (voltage: Complex, current: Complex): Complex =>
	divide(subtract(voltage, scale(current, REFERENCE)), add(voltage, scale(current, REFERENCE)));
