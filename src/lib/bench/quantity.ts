import { faults } from './faults.ts';

/**
 * Numbers with units, at the edges: files, fields, lessons, command line. Inside, every quantity is a plain number in
 * the unit named first in its row (SI; decibels for logarithmic settings).
 */
interface Unit {
	readonly symbol: string;
	/** The unit is `factor · 10^exponent` base units; a power of ten alone keeps every digit. */
	readonly exponent: number;
	readonly factor?: number;
	/** Further spellings accepted when reading. */
	readonly also?: readonly string[];
}

interface Kind {
	readonly base: string;
	readonly units: readonly Unit[];
}

const unit = (symbol: string, exponent = 0, also: readonly string[] = [], factor?: number): Unit => ({
	symbol,
	exponent,
	also,
	...(factor === undefined ? {} : { factor })
});

const KINDS = {
	frequency: { base: 'Hz', units: [unit('Hz'), unit('kHz', 3), unit('MHz', 6), unit('GHz', 9)] },
	level: { base: 'dBm', units: [unit('dBm')] },
	attenuation: { base: 'dB', units: [unit('dB')] },
	'noise density': { base: 'dBm/Hz', units: [unit('dBm/Hz')] },
	'loss per length': { base: 'dB/m', units: [unit('dB/m'), unit('dB/100 m', -2, ['dB/100m'])] },
	time: {
		base: 's',
		units: [unit('s'), unit('ms', -3), unit('µs', -6, ['us', 'μs']), unit('ns', -9), unit('ps', -12)]
	},
	length: { base: 'm', units: [unit('m'), unit('cm', -2), unit('mm', -3)] },
	resistance: {
		base: 'Ω',
		units: [
			// both the Greek letter and the ohm sign (U+2126)
			unit('Ω', 0, ['ohm', 'Ohm', 'ohms', '\u2126']),
			unit('mΩ', -3, ['mohm', 'm\u2126']),
			unit('kΩ', 3, ['kohm', 'kOhm', 'k\u2126']),
			unit('MΩ', 6, ['Mohm', 'MOhm', 'M\u2126'])
		]
	},
	capacitance: {
		base: 'F',
		units: [unit('F'), unit('µF', -6, ['uF', 'μF']), unit('nF', -9), unit('pF', -12), unit('fF', -15)]
	},
	inductance: {
		base: 'H',
		units: [unit('H'), unit('mH', -3), unit('µH', -6, ['uH', 'μH']), unit('nH', -9), unit('pH', -12)]
	},
	angle: { base: 'rad', units: [unit('rad'), unit('°', 0, ['deg', 'degrees'], Math.PI / 180)] },
	voltage: { base: 'V', units: [unit('V'), unit('kV', 3), unit('mV', -3), unit('µV', -6, ['uV', 'μV'])] },
	current: {
		base: 'A',
		units: [
			unit('A'),
			unit('mA', -3),
			unit('µA', -6, ['uA', 'μA']),
			unit('nA', -9),
			unit('pA', -12),
			unit('fA', -15)
		]
	},
	conductance: { base: 'S', units: [unit('S'), unit('mS', -3), unit('µS', -6, ['uS', 'μS'])] },
	'current per squared voltage': {
		base: 'A/V²',
		units: [unit('A/V²', 0, ['A/V^2']), unit('mA/V²', -3, ['mA/V^2']), unit('µA/V²', -6, ['uA/V^2'])]
	},
	'part per voltage': { base: '/V', units: [unit('/V', 0, ['1/V']), unit('%/V', -2)] },
	'part per squared voltage': {
		base: '/V²',
		units: [unit('/V²', 0, ['/V^2', '1/V²', '1/V^2']), unit('ppm/kV²', -12, ['ppm/kV^2'])]
	},
	'resistance per length': {
		base: 'Ω/m',
		units: [unit('Ω/m', 0, ['ohm/m', '\u2126/m']), unit('mΩ/m', -3, ['mohm/m', 'm\u2126/m'])]
	},
	'inductance per length': {
		base: 'H/m',
		units: [unit('H/m'), unit('µH/m', -6, ['uH/m', 'μH/m']), unit('nH/m', -9)]
	},
	'capacitance per length': { base: 'F/m', units: [unit('F/m'), unit('nF/m', -9), unit('pF/m', -12)] },
	power: { base: 'W', units: [unit('W'), unit('mW', -3), unit('µW', -6, ['uW', 'μW'])] },
	fraction: { base: '', units: [unit('%', -2), unit('')] },
	number: { base: '', units: [unit('')] }
} as const satisfies Record<string, Kind>;

export type QuantityKind = keyof typeof KINDS;

export const quantityKinds = Object.keys(KINDS) as QuantityKind[];

/** The unit a quantity of this kind is kept in inside the program, `''` for a plain number. */
export const baseUnit = (kind: QuantityKind): string => KINDS[kind].base;

/** The unit symbols of a kind, as they are written. */
export const unitSymbols = (kind: QuantityKind): readonly string[] => KINDS[kind].units.map((u) => u.symbol);

const NUMBER = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?/;

/** A finite number times a power of ten, rounded once: 41 and −12 give exactly the double nearest to 41e−12. */
function scaled(digits: string, exponent: number): number {
	const [mantissa, power = '0'] = digits.toLowerCase().split('e');
	return Number(`${mantissa}e${Number(power) + exponent}`);
}

const spellings = (u: Unit): readonly string[] => [u.symbol, ...(u.also ?? [])];

function findUnit(written: string, kind: QuantityKind): Unit | undefined {
	const compact = written.replace(/\s+/g, ' ');
	return KINDS[kind].units.find((u) => spellings(u).includes(compact));
}

/**
 * Reads a number with its unit, such as `-20 dBm`, `169.5 MHz`, `41 ps` or `50 ohm`.
 *
 * Case matters in units (`mHz` is not `MHz`). A true minus (U+2212), no-break spaces and a missing space before the
 * unit are accepted. @returns the value in the base unit of the kind.
 * @throws Fault when it is no finite number, the unit is missing, unknown or of another kind; `place` names where.
 */
export function parseQuantity(text: string, kind: QuantityKind, place: string = kind): number {
	const found = text.trim().slice(0, 60);
	const tidy = text
		.replace(/[\u00a0\u202f\u2009]/g, ' ')
		.replace(/\u2212/g, '-')
		.trim();
	const allowed = KINDS[kind].units.map((u) => u.symbol || 'no unit').join(', ');
	const number = NUMBER.exec(tidy)?.[0];
	if (number === undefined || text.length > 200)
		throw faults['quantity-number']({ place, found, kind, example: example(kind) });
	const rest = tidy.slice(number.length).trim();
	if (/^,\d/.test(rest))
		throw faults['quantity-comma']({ place, found, point: `${number}.${rest.slice(1)}` });
	const u = findUnit(rest, kind);
	if (u === undefined) {
		const meant = KINDS[kind].units.find((candidate) =>
			spellings(candidate).some((s) => s !== '' && s.toLowerCase() === rest.toLowerCase())
		);
		if (meant) throw faults['quantity-case']({ place, found, unit: rest, meant: meant.symbol });
		if (rest === '') throw faults['quantity-unit-missing']({ place, found, allowed });
		throw faults['quantity-unit']({ place, found, unit: rest, kind, allowed });
	}
	const value = scaled(number, u.exponent) * (u.factor ?? 1);
	if (!Number.isFinite(value))
		throw faults['quantity-number']({ place, found, kind, example: example(kind) });
	return value;
}

const example = (kind: QuantityKind): string => {
	const symbol = KINDS[kind].units[0].symbol;
	return symbol === '%' ? '"1 %"' : symbol ? `"10 ${symbol}"` : '"10"';
};

/**
 * Writes a value so that `parseQuantity` gives back exactly the same number (zero for −0), in the unit with the fewest
 * digits that keeps one to three places before the point where it can. What is not finite is written all the same, for
 * messages; no unit reads it back.
 */
export function formatQuantity(value: number, kind: QuantityKind): string {
	if (kind === 'number') return String(value);
	if (!Number.isFinite(value)) return `${value} ${KINDS[kind].base}`.trim();
	const written = KINDS[kind].units
		.map((u: Unit) => {
			const digits = u.factor === undefined ? shift(value, -u.exponent) : String(value / u.factor);
			const text = u.symbol === '' ? digits : `${digits} ${u.symbol}`;
			return {
				digits,
				text,
				size: Math.abs(Number(digits)),
				read: scaled(digits, u.exponent) * (u.factor ?? 1)
			};
		})
		.filter((w) => w.read === value);
	const score = (w: { digits: string; size: number }) =>
		w.digits.length +
		(w.size !== 0 && (w.size < 1 || w.size >= 1000) ? 3 : 0) +
		(w.digits.includes('e') ? 20 : 0);
	written.sort((a, b) => score(a) - score(b));
	return written[0]?.text ?? `${value} ${KINDS[kind].base}`.trim();
}

/** The shortest decimal digits of value · 10^exponent, moving the point in the text so that nothing is rounded. */
function shift(value: number, exponent: number): string {
	return String(scaled(String(value), exponent));
}
