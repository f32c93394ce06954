/** Work cut into slices, run to its end at once: what it returns. */
export function finished<Result>(slices: Iterator<unknown, Result, undefined>): Result {
	let step = slices.next();
	while (!step.done) step = slices.next();
	return step.value;
}
