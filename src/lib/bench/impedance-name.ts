/** An impedance in words: `25 + j50 Ω`. True minus, and no `j0` for a plain resistor. */
export function formatImpedance({
	resistance,
	reactance
}: {
	resistance: number;
	reactance: number;
}): string {
	if (reactance === 0) return `${resistance} Ω`;
	return `${resistance} ${reactance < 0 ? '\u2212' : '+'} j${Math.abs(reactance)} Ω`;
}
