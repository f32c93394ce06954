import type { MarkerReading, Picture } from '#lib/bench/picture.ts';
import { magnitude, subtract } from '#lib/numeric/complex.ts';
import { fixed, frequency, impedance, NO_BREAK_SPACE, significant, sizeAndAngle } from '#lib/view/numbers.ts';
import { lostWords, silenceWords } from '#lib/view/silence.ts';
import { isFinitePoint } from './frame.ts';
import { isWorthAFigure } from './shift.ts';

/** The one sentence that says what the chart shows, for who does not see it. */
export function chartSummary(picture: Picture | null, marker: 0 | 1 | 2, revealed: boolean): string {
	const chart = `Smith chart with 50${NO_BREAK_SPACE}Ω at its centre`;
	if (picture === null) return `${chart}; no reading yet.`;
	const chosen = picture.markers[marker].reading;
	const truth = revealed ? ` ${truthWords(chosen)}` : '';
	if (picture.silence) return `${chart}. ${silenceWords(picture.silence)}${truth}`;
	const lost = picture.lost ? ` ${lostWords(picture.lost, picture.frequencies.length)}` : '';
	if (!isFinitePoint(chosen.gamma))
		return `${chart}${runWords(picture)}; at ${frequency(chosen.frequency)} there is no reading.${lost}${truth}`;
	const spread =
		chosen.spreadSingle === null
			? ''
			: `, with single readings within ${significant(chosen.spreadSingle)} of their mean in Γ (95${NO_BREAK_SPACE}%)`;
	return (
		`${chart}${runWords(picture)}; at ${frequency(chosen.frequency)} it is ${impedance(chosen.impedance)}, ` +
		`Γ = ${sizeAndAngle(chosen.gamma)}${spread}.${lost}${truth}`
	);
}

function runWords({ frequencies, markers }: Picture): string {
	const [low, , high] = markers.map((m) => m.reading);
	if (frequencies.length === 1 || !isFinitePoint(low.gamma) || !isFinitePoint(high.gamma)) return '';
	return (
		`: from ${frequency(low.frequency)} to ${frequency(high.frequency)} the reading runs from ` +
		`${impedance(low.impedance)} to ${impedance(high.impedance)}`
	);
}

function truthWords(reading: MarkerReading): string {
	const { truth, driven } = reading;
	const rest = `The truth there is Γ = ${sizeAndAngle(truth)}`;
	if (!isWorthAFigure(reading)) return `${rest}.`;
	return (
		`${rest} at rest; at the present drive it is ${sizeAndAngle(driven)}, ` +
		`${fixed(magnitude(subtract(driven, truth)), 3)} away from it.`
	);
}
