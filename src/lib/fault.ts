/**
 * An error a user can act on: where it is, what was found there, and what to do about it.
 * Every folder keeps its own table of faults (`faults.ts`), made with `catalogue`; codes are unique over all tables.
 */
export class Fault extends Error {
	readonly code: string;
	readonly place: string;
	readonly finding: string;
	readonly remedy: string;

	constructor(code: string, place: string, finding: string, remedy: string) {
		super(`${place}: ${finding} ${remedy}`);
		this.name = 'Fault';
		this.code = code;
		this.place = place;
		this.finding = finding;
		this.remedy = remedy;
	}
}

/** One row of a table: sentences with blanks in braces, `{like this}`; finding and remedy end in a full stop. */
export interface FaultText {
	readonly place: string;
	readonly finding: string;
	readonly remedy: string;
}

export type Blanks = Readonly<Record<string, string | number>>;

const fill = (text: string, blanks: Blanks): string =>
	text.replace(/\{([^}]+)\}/g, (whole, name: string) =>
		Object.hasOwn(blanks, name) ? String(blanks[name]) : whole
	);

/**
 * Turns a table of sentences into functions that make the faults:
 * `const faults = catalogue({ 'level-range': { place: '{path}', finding: '…', remedy: '…' } });`
 * `throw faults['level-range']({ path: 'source.level' });`
 */
export function catalogue<Code extends string>(
	table: Readonly<Record<Code, FaultText>>
): Readonly<Record<Code, (blanks?: Blanks) => Fault>> {
	const entries = (Object.entries(table) as [Code, FaultText][]).map(([code, text]) => [
		code,
		(blanks: Blanks = {}) =>
			new Fault(code, fill(text.place, blanks), fill(text.finding, blanks), fill(text.remedy, blanks))
	]);
	return Object.fromEntries(entries) as Record<Code, (blanks?: Blanks) => Fault>;
}
