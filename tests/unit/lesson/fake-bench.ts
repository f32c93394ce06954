import { parseQuantity } from '#lib/bench/quantity.ts';
import { faults } from '#lib/lesson/faults.ts';
import type { LessonBench, ObservableDescription, OpenBench } from '#lib/lesson/lesson-bench.ts';

/** A stand-in for the interface alone: a source, a pad and a device that returns a tenth of the voltage it is given. */
interface State {
	readonly source: number;
	readonly pad: number;
}

const describe = (
	name: string,
	kind: ObservableDescription['kind'],
	args: ObservableDescription['arguments'] = []
): [string, ObservableDescription] => [name, { name, kind, arguments: args, meaning: `The ${name}.` }];

const frequency = [{ name: 'frequency', kind: 'frequency' as const }];

const observables = new Map([
	describe('level.source', 'level'),
	describe('level.device', 'level'),
	describe('level.receiver', 'level'),
	describe('pad.attenuation', 'attenuation'),
	describe('displayed.R', 'resistance', frequency),
	describe('displayed.returnLoss', 'attenuation', frequency),
	describe('calibration.averages', 'number'),
	describe('device.is', 'boolean', [{ name: 'name', kind: 'text' }])
]);

const commands = new Set(['set level', 'set part', 'begin afresh']);
const USUAL: State = { source: -10, pad: 20 };

export class FakeBench implements LessonBench {
	readonly observables = observables;
	readonly commands = commands;
	#state: State;

	constructor(source = USUAL.source) {
		this.#state = { ...USUAL, source };
	}

	run({ name, arguments: args }: Parameters<LessonBench['run']>[0]): void {
		if (name === 'set level')
			this.#state = { ...this.#state, source: parseQuantity(String(args.level), 'level') };
		else if (name === 'set part')
			this.#state = { ...this.#state, pad: parseQuantity(String(args.attenuation), 'attenuation') };
		else if (name === 'begin afresh') this.#state = USUAL;
		else throw faults['lesson-command-unknown']({ place: 'bench', found: name, suggestion: 'None.' });
	}

	read(observable: string, args: readonly (number | boolean | string)[]) {
		const { source, pad } = this.#state;
		switch (observable) {
			case 'level.source':
				return source;
			case 'level.device':
				return source - pad;
			case 'level.receiver':
				return source - 2 * pad - 20;
			case 'pad.attenuation':
				return pad;
			case 'displayed.R':
				return 40 + Number(args[0]) / 1e8;
			case 'displayed.returnLoss':
				return 20;
			case 'calibration.averages':
				return 16;
			case 'device.is':
				return args[0] === 'preamp';
			default:
				throw faults['lesson-observable-unknown']({ place: 'bench', found: observable, suggestion: 'None.' });
		}
	}

	snapshot(): unknown {
		return this.#state;
	}

	restore(snapshot: unknown): void {
		this.#state = snapshot as State;
	}
}

export const openFakeBench: OpenBench = (setup) =>
	new FakeBench(setup ? parseQuantity(String(setup.level), 'level') : undefined);

export const views: ReadonlySet<string> = new Set(['line', 'corridor', 'chart', 'reading', 'tray', 'truth']);
