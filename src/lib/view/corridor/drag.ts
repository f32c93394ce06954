import type { Attachment } from 'svelte/attachments';

/** What a drag of a handle reports: how far it is from where it began, in px of the screen. */
export interface DragCalls {
	readonly begin: () => void;
	readonly move: (dx: number, dy: number) => void;
	readonly drop: () => void;
	/** Escape, or the pointer was taken away. */
	readonly bail: () => void;
	/** Pressed and let go without moving. */
	readonly press: () => void;
}

/** A pointer that moves less than this has pressed, not dragged. */
const SLACK = 3;

/** Makes an element draggable by mouse, pen or finger. */
export function draggable(calls: DragCalls): Attachment<SVGElement> {
	return (element) => {
		let from: { x: number; y: number; pointer: number } | null = null;
		let moved = false;

		const end = (finish: () => void) => {
			if (!from) return;
			if (element.hasPointerCapture(from.pointer)) element.releasePointerCapture(from.pointer);
			from = null;
			document.removeEventListener('keydown', escape, true);
			finish();
		};
		const down = (event: PointerEvent) => {
			if (event.button !== 0 || from) return;
			from = { x: event.clientX, y: event.clientY, pointer: event.pointerId };
			moved = false;
			element.setPointerCapture(event.pointerId);
			document.addEventListener('keydown', escape, true);
		};
		const move = (event: PointerEvent) => {
			if (event.pointerId !== from?.pointer) return;
			const [dx, dy] = [event.clientX - from.x, event.clientY - from.y];
			if (!moved && Math.hypot(dx, dy) < SLACK) return;
			if (!moved) calls.begin();
			moved = true;
			calls.move(dx, dy);
		};
		const up = (event: PointerEvent) => {
			if (event.pointerId === from?.pointer) end(moved ? calls.drop : calls.press);
		};
		const cancel = (event: PointerEvent) => {
			if (event.pointerId === from?.pointer) end(moved ? calls.bail : () => undefined);
		};
		const escape = (event: KeyboardEvent) => {
			if (event.key !== 'Escape') return;
			event.stopPropagation();
			end(moved ? calls.bail : () => undefined);
		};
		element.addEventListener('pointerdown', down);
		element.addEventListener('pointermove', move);
		element.addEventListener('pointerup', up);
		element.addEventListener('pointercancel', cancel);
		return () => {
			end(moved ? calls.bail : () => undefined);
			element.removeEventListener('pointerdown', down);
			element.removeEventListener('pointermove', move);
			element.removeEventListener('pointerup', up);
			element.removeEventListener('pointercancel', cancel);
		};
	};
}
