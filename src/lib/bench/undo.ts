import { applyPatches } from 'immer';
import type { Patch } from 'immer';
import { checkSetup } from './command.ts';
import type { Outcome } from './command.ts';
import type { Setup } from './setup.ts';

interface Step {
	readonly label: string;
	readonly forward: readonly Patch[];
	readonly back: readonly Patch[];
}

const MOST_STEPS = 500;

/**
 * What can be undone, as immutable data. Only edits of the setup are in it: the bench history is never undone. A mark
 * joins all that follows, until it is taken off, into one step (a drag is one step).
 */
export interface UndoList {
	readonly done: readonly Step[];
	readonly undone: readonly Step[];
	readonly mark: number | null;
	/** What could be redone when the mark was set, for a drag that is given up. */
	readonly aside: readonly Step[];
}

export const EMPTY_UNDO: UndoList = { done: [], undone: [], mark: null, aside: [] };

/** Adds what a command did. A command that changed nothing in the setup leaves the list, and what can be redone, alone. */
export function remember(list: UndoList, outcome: Outcome): UndoList {
	if (outcome.forward.length === 0) return list;
	const { label, forward, back } = outcome;
	const last = list.done[list.done.length - 1];
	if (list.mark !== null && list.done.length > list.mark && last !== undefined) {
		const joined = { label, forward: [...last.forward, ...forward], back: [...back, ...last.back] };
		return { ...list, done: [...list.done.slice(0, -1), joined], undone: [] };
	}
	const done = [...list.done, { label, forward, back }];
	const dropped = Math.max(0, done.length - MOST_STEPS);
	return {
		...list,
		done: done.slice(dropped),
		undone: [],
		mark: list.mark === null ? null : Math.max(0, list.mark - dropped)
	};
}

export const setMark = (list: UndoList): UndoList => ({
	...list,
	mark: list.done.length,
	aside: list.undone
});
export const clearMark = (list: UndoList): UndoList => ({ ...list, mark: null, aside: [] });

/** The label of the step that would be undone (or redone) next, or null. */
export const nextUndo = (list: UndoList): string | null => list.done[list.done.length - 1]?.label ?? null;
export const nextRedo = (list: UndoList): string | null => list.undone[list.undone.length - 1]?.label ?? null;

/** The setup before the last step, and the list after undoing it. @throws Fault if the result is no valid setup. */
export function undo(list: UndoList, setup: Setup): { list: UndoList; setup: Setup } {
	const step = list.done[list.done.length - 1];
	if (step === undefined) return { list, setup };
	return {
		setup: patched(setup, step.back),
		list: { ...clearMark(list), done: list.done.slice(0, -1), undone: [...list.undone, step] }
	};
}

export function redo(list: UndoList, setup: Setup): { list: UndoList; setup: Setup } {
	const step = list.undone[list.undone.length - 1];
	if (step === undefined) return { list, setup };
	return {
		setup: patched(setup, step.forward),
		list: { ...clearMark(list), done: [...list.done, step], undone: list.undone.slice(0, -1) }
	};
}

/** Gives up a drag: what happened since the mark is undone and forgotten, and what could be redone before can be again. */
export function bail(list: UndoList, setup: Setup): { list: UndoList; setup: Setup } {
	if (list.mark === null || list.done.length === list.mark) return { list: clearMark(list), setup };
	const { setup: before, list: after } = undo(list, setup);
	return { setup: before, list: { ...after, undone: list.aside } };
}

function patched(setup: Setup, patches: readonly Patch[]): Setup {
	const after = applyPatches(setup, patches as Patch[]);
	checkSetup(after, setup);
	return after;
}
