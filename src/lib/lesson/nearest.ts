/** The known name with the fewest changed letters, if it is near enough to be what was meant. */
function nearest(name: string, known: Iterable<string>): string | undefined {
	const short = name.slice(0, 60);
	const allowed = Math.max(2, Math.floor(short.length / 3));
	let best: string | undefined;
	let fewest = allowed + 1;
	for (const candidate of known) {
		const changes = distance(short.toLowerCase(), candidate.toLowerCase());
		if (changes < fewest) [best, fewest] = [candidate, changes];
	}
	return best;
}

/** A remedy naming the nearest known name, or all of them. */
export function suggestion(name: string, known: Iterable<string>): string {
	const all = [...known];
	const near = nearest(name, all);
	if (near !== undefined) return `Did you mean "${near}"?`;
	return all.length === 0 ? 'None are known here.' : `Known are: ${all.sort().slice(0, 30).join(', ')}.`;
}

/** Levenshtein's distance (1966): insertions, deletions and replacements that turn a into b. */
function distance(a: string, b: string): number {
	let previous = Array.from({ length: b.length + 1 }, (_, j) => j);
	for (let i = 1; i <= a.length; i++) {
		const row = [i];
		for (let j = 1; j <= b.length; j++) {
			const replaced = previous[j - 1] + (a[i - 1] === b[j - 1] ? 0 : 1);
			row.push(Math.min(replaced, previous[j] + 1, row[j - 1] + 1));
		}
		previous = row;
	}
	return previous[b.length];
}
