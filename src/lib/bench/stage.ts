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
		const remembered = this.#inputs;
		if (remembered === null || inputs.some((input, i) => !Object.is(input, remembered[i]))) {
			this.#output = this.#compute(...inputs);
			this.#inputs = inputs;
			this.runs += 1;
		}
		return this.#output as Output;
	}
}
