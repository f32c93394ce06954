import { parse } from 'yaml';

/** The lessons of the course as they were built in, in the order of their file names. */
const texts = import.meta.glob<string>('/lessons/*.yaml', { query: '?raw', import: 'default', eager: true });

export interface ListedLesson {
	/** File name without its ending, which sets the order. */
	readonly file: string;
	readonly title: string;
	readonly minutes: number;
	readonly text: string;
}

export const lessonList: readonly ListedLesson[] = Object.entries(texts)
	.map(([path, text]) => {
		const { title, minutes } = parse(text) as { title: string; minutes: number };
		return { file: path.replace(/^.*\/(.*)\.yaml$/, '$1'), title, minutes, text };
	})
	.sort((a, b) => (a.file < b.file ? -1 : 1));

export const lessonNamed = (file: string): ListedLesson | undefined =>
	lessonList.find((l) => l.file === file);
