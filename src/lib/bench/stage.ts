const isSame = (inputs: readonly unknown[], others: readonly unknown[]): boolean =>
	inputs.every((input, i) => Object.is(input, others[i]));

/**
 * A step of the compilation that remembers its last answer: it runs again only when one of the things it depends on
 * is another object (or number) than last time. One entry, and a count of runs for the tests that watch it.
 */
export class Stage<Inputs extends readonly unknown[], Output> {
	readonly name: string;
	runs = 0;
	readonly #compute: (...inputs: Inputs) => Output;
	#inputs: Inputs | null = null;
	#output: Output | undefined;

	constructor(name: string, compute: (...inputs: Inputs) => Output) {
		this.name = name;
		this.#compute = compute;
	}

	of(...inputs: Inputs): Output {
		if (this.#inputs === null || !isSame(inputs, this.#inputs)) {
			this.#output = this.#compute(...inputs);
			this.#inputs = inputs;
			this.runs += 1;
		}
		return this.#output as Output;
	}
}

/** The same for a step that works in slices; one that is left unfinished has not run. */
export class SlicedStage<Inputs extends readonly unknown[], Output> {
	readonly name: string;
	runs = 0;
	readonly #compute: (...inputs: Inputs) => Generator<number, Output, undefined>;
	#known: { readonly inputs: Inputs; readonly output: Output } | null = null;

	constructor(name: string, compute: (...inputs: Inputs) => Generator<number, Output, undefined>) {
		this.name = name;
		this.#compute = compute;
	}

	*of(...inputs: Inputs): Generator<number, Output, undefined> {
		const known = this.#known;
		if (known !== null && isSame(inputs, known.inputs)) return known.output;
		const output = yield* this.#compute(...inputs);
		this.#known = { inputs, output };
		this.runs += 1;
		return output;
	}
}
