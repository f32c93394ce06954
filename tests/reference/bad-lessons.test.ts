import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { LessonFaults, LONGEST_LESSON, readLesson } from '#lib/lesson/lesson-file.ts';

const folder = new URL('./bad-lessons/', import.meta.url);
const files = readdirSync(folder)
	.filter((name) => name.endsWith('.yaml'))
	.sort();

function message(text: string, name: string): string {
	try {
		readLesson(text, name);
	} catch (error) {
		if (error instanceof LessonFaults) return error.message;
		throw error;
	}
	throw new Error(`${name} was read without complaint.`);
}

test('there are bad lessons to read', () => {
	expect(files.length).toBeGreaterThan(25);
});

test.each(files)('%s is refused with place, finding and remedy', (name) => {
	const text = readFileSync(new URL(name, folder), 'utf8');
	expect(message(text, name)).toMatchSnapshot();
});

test('a lesson of ten million characters is refused at once', () => {
	const started = performance.now();
	expect(message('#'.repeat(10_000_000), 'huge.yaml')).toContain(`${LONGEST_LESSON} are allowed`);
	expect(performance.now() - started).toBeLessThan(500);
});
