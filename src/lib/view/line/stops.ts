/** The stop an arrow key, Home or End leads to among `count` stops; undefined for every other key. */
export function nextStop(key: string, current: number, count: number): number | undefined {
	if (key === 'ArrowLeft') return Math.max(0, current - 1);
	if (key === 'ArrowRight') return Math.min(count - 1, current + 1);
	if (key === 'Home') return 0;
	if (key === 'End') return count - 1;
	return undefined;
}
