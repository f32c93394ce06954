/**
 * Scattering parameters of a one-port or two-port as plain data: what a Touchstone file holds once it has been read,
 * and what a setup stores of an imported device.
 *
 * `frequencies` in Hz, strictly rising. `s` is flat, a row a frequency, each row re and im in turn:
 * one-port S11; two-port S11, S12, S21, S22 (row by row of the matrix). Reference impedance 50 Ω at every port.
 */
export interface NetworkData {
	readonly ports: 1 | 2;
	readonly frequencies: readonly number[];
	readonly s: readonly number[];
}
