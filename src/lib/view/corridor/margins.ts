import type { LevelDiagram } from '#lib/bench/picture.ts';
import { decibels } from '#lib/view/numbers.ts';

/** How far a level is from a wall. The limits are a designer's choice. */
export type MarginState = 'clear' | 'close' | 'out';

export interface Margin {
	readonly state: MarginState;
	/** The large number, and the words that go with it. */
	readonly number: string;
	readonly words: string;
	/** What that means, where it has to be said. */
	readonly verdict?: string;
}

export const ceilingState = (margin: number): MarginState =>
	margin < 0 ? 'out' : margin < 3 ? 'close' : 'clear';

export const floorState = (margin: number): MarginState =>
	margin < 6 ? 'out' : margin < 20 ? 'close' : 'clear';

/** Whether the outgoing level is past what breaks the device. */
export const isBreaking = ({ breakingMargin }: LevelDiagram): boolean =>
	breakingMargin !== null && breakingMargin < 0;

/** Of the outgoing level at the device; null where the device states no ceiling and stands the level. */
export function ceilingMargin(levels: LevelDiagram): Margin | null {
	if (isBreaking(levels))
		return {
			state: 'out',
			number: decibels(Math.abs(levels.breakingMargin!)),
			words: 'over what it stands',
			verdict: 'damage'
		};
	if (levels.ceilingMargin === null) return null;
	const state = ceilingState(levels.ceilingMargin);
	const words = { clear: 'below the ceiling', close: 'to the ceiling', out: 'over the ceiling' }[state];
	return { state, number: decibels(Math.abs(levels.ceilingMargin)), words };
}

/** Of the returning level at the receiver. */
export function floorMargin(levels: LevelDiagram): Margin {
	const margin = levels.floorMargin;
	const state = floorState(margin);
	if (Number.isNaN(margin)) return { state: 'clear', number: 'no reading', words: 'echo not known' };
	if (margin === -Infinity) return { state, number: 'no echo', words: 'lost in noise' };
	const words = margin < 0 ? 'under the floor' : 'above the floor';
	return {
		...{ state, number: decibels(Math.abs(margin)), words },
		...(state === 'out' ? { verdict: 'lost in noise' } : {})
	};
}

/** The two states in words, for a live region: it changes only when a state does. */
export function stateWords(levels: LevelDiagram): string {
	const ceiling = ceilingMargin(levels);
	const loud = isBreaking(levels)
		? 'Outgoing level over what the device stands: damage.'
		: ceiling &&
			{
				clear: 'Outgoing level clear of the ceiling.',
				close: 'Outgoing level close to the ceiling.',
				out: 'Outgoing level over the ceiling.'
			}[ceiling.state];
	const faint = Number.isNaN(levels.floorMargin)
		? 'Returning level not known.'
		: {
				clear: 'Returning level clear of the floor.',
				close: 'Returning level close to the floor.',
				out: 'Returning level lost in noise.'
			}[floorState(levels.floorMargin)];
	return loud ? `${loud} ${faint}` : faint;
}
