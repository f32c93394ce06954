import { readFileSync } from 'node:fs';
import { readLessonScript } from '#lib/lesson/lesson-file.ts';

export const source = readFileSync(new URL('./two-pads.yaml', import.meta.url), 'utf8');
export const twoPads = () => readLessonScript(source, 'two-pads.yaml');

/** The same lesson with one piece of its text changed; the piece must be there. */
export function changed(piece: string, replacement: string) {
	if (!source.includes(piece)) throw new Error(`The fixture has no "${piece}".`);
	return readLessonScript(source.replace(piece, replacement), 'two-pads.yaml');
}
