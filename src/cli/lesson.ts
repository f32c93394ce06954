import { checkLesson } from '#lib/lesson/checker.ts';
import { LessonFaults, readLessonScript } from '#lib/lesson/lesson-file.ts';
import { openSession } from '#lib/lesson/open-bench.ts';
import { lessonViews } from '#lib/lesson/views.ts';
import { Fault } from '#lib/fault.ts';
import { FALLS_SHORT, OK, UNUSABLE } from './command.ts';
import type { Command } from './command.ts';
import { readText } from './files.ts';
import { plainFault } from './plain.ts';

interface Checked {
	readonly file: string;
	readonly code: number;
	readonly findings: readonly Fault[];
}

/** All that is wrong with one lesson. A file that is not there is unusable; a lesson that cannot be read falls short. */
async function check(file: string): Promise<Checked> {
	try {
		const findings = checkLesson(readLessonScript(await readText(file), file), openSession, lessonViews);
		return { file, code: findings.length > 0 ? FALLS_SHORT : OK, findings };
	} catch (error) {
		if (error instanceof LessonFaults) return { file, code: FALLS_SHORT, findings: error.faults };
		if (error instanceof Fault) return { file, code: UNUSABLE, findings: [error] };
		throw error;
	}
}

export const lesson: Command = {
	name: 'lesson',
	takes: 'FILE…',
	summary: 'checks lesson scripts, and walks them on the benches they open',
	details: [
		'Checks the form of each script, its names, questions, texts and reading times; if nothing is wrong, takes its',
		'right and its wrong walks. Every finding is a line; exit code 1 if there are any, 2 if a file is not there.',
		'With --json: {"lessons": [{"file", "findings": [{"code", "place", "finding", "remedy"}]}]}.'
	],
	options: [],
	async perform({ files, options }, terminal) {
		const checked: Checked[] = [];
		for (const [i, file] of files.entries()) {
			if (files.length > 1) terminal.note(`checking ${file} (${i + 1} of ${files.length})`);
			checked.push(await check(file));
		}
		if (options.has('json')) {
			const lessons = checked.map(({ file, findings }) => ({ file, findings: findings.map(plainFault) }));
			terminal.print(JSON.stringify({ lessons }));
		}
		for (const { file, code, findings } of checked) {
			if (code === UNUSABLE) for (const fault of findings) terminal.note(`faint-echo: ${fault.message}`);
			else if (!options.has('json'))
				terminal.print([`${file}: ${count(findings)}`, ...lines(findings)].join('\n'));
		}
		return Math.max(...checked.map(({ code }) => code));
	}
};

const count = ({ length }: readonly Fault[]): string =>
	length === 0 ? 'nothing to find fault with' : length === 1 ? '1 finding' : `${length} findings`;

const lines = (findings: readonly Fault[]): string[] => findings.map((fault) => `  ${fault.message}`);
