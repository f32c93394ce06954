import type { Picture } from '#lib/bench/picture.ts';
import { frequency, impedance, NO_BREAK_SPACE, significant, sizeAndAngle } from '#lib/view/numbers.ts';

/** The one sentence that says what the chart shows, for who does not see it. */
export function chartSummary(picture: Picture | null, marker: 0 | 1 | 2, revealed: boolean): string {
	const chart = `Smith chart with 50${NO_BREAK_SPACE}Ω at its centre`;
	if (picture === null) return `${chart}; no reading yet.`;
	const [low, , high] = picture.markers.map((m) => m.reading);
	const chosen = picture.markers[marker].reading;
	const run =
		picture.frequencies.length > 1
			? `: from ${frequency(low.frequency)} to ${frequency(high.frequency)} the reading runs from ` +
				`${impedance(low.impedance)} to ${impedance(high.impedance)}`
			: '';
	const spread =
		chosen.spreadSingle === null
			? ''
			: `, with single readings within ${significant(chosen.spreadSingle)} of their mean in Γ (95${NO_BREAK_SPACE}%)`;
	const truth = revealed ? ` The truth there is Γ = ${sizeAndAngle(chosen.truth)}.` : '';
	return (
		`${chart}${run}; at ${frequency(chosen.frequency)} it is ${impedance(chosen.impedance)}, ` +
		`Γ = ${sizeAndAngle(chosen.gamma)}${spread}.${truth}`
	);
}
