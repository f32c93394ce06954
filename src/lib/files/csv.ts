import { faults } from './faults.ts';

export interface CsvColumn {
	readonly name: string;
	/** Empty for a column without unit. */
	readonly unit: string;
	readonly values: ArrayLike<number>;
}

const quotedIfNeeded = (cell: string): string =>
	/[",\r\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell;

/** Decimal point, the fewest digits that give the same double again; empty where there is no number to show. */
const numberCell = (value: number): string => (Number.isFinite(value) ? String(value) : '');

/**
 * A table as comma-separated values: first the comments, a line each, beginning with "#"; then the header cells
 * `name (unit)`; then a record a row. Records and quoting follow RFC 4180 (2005), lines end in CR LF.
 * A value that is not finite leaves its cell empty. Throws a Fault for columns of unequal length.
 */
export function writeCsv(columns: readonly CsvColumn[], comments: readonly string[]): string {
	const length = columns[0]?.values.length ?? 0;
	for (const { name, values } of columns)
		if (values.length !== length)
			throw faults['csv-lengths']({ name, count: values.length, expected: length });
	const lines = comments.flatMap((comment) => comment.split(/\r\n|\r|\n/)).map((comment) => `# ${comment}`);
	if (columns.length > 0)
		lines.push(
			columns.map(({ name, unit }) => quotedIfNeeded(unit === '' ? name : `${name} (${unit})`)).join(',')
		);
	for (let row = 0; row < length; row++)
		lines.push(columns.map(({ values }) => numberCell(values[row])).join(','));
	return lines.map((line) => `${line}\r\n`).join('');
}
