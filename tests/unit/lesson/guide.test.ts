import { readFileSync } from 'node:fs';
import { parse } from 'yaml';
import { expect, test } from 'vitest';
import { checkLesson } from '#lib/lesson/checker.ts';
import { readLessonScript } from '#lib/lesson/lesson-file.ts';
import { openSession } from '#lib/lesson/open-bench.ts';
import { question } from '#lib/lesson/question-schema.ts';
import { lessonJsonSchema } from '#lib/lesson/schema.ts';
import { lessonViews } from '#lib/lesson/views.ts';

const guide = readFileSync(new URL('../../../lessons/README.md', import.meta.url), 'utf8');
const examples = (kind: string) =>
	[...guide.matchAll(new RegExp(`\`\`\`yaml ${kind}\\n([^]*?)\`\`\``, 'g'))].map((match) => match[1]);

test('the whole lesson of the guide has no findings and every kind of step', () => {
	const [text] = examples('lesson');
	const script = readLessonScript(text, 'guide.yaml');
	expect(checkLesson(script, openSession, lessonViews).map(String)).toEqual([]);
	expect([...new Set(script.lesson.steps.map((step) => step.kind))].sort()).toEqual([
		'decide',
		'do',
		'explain',
		'observe',
		'predict',
		'read'
	]);
});

test('every question of the guide is one, and all kinds are there', () => {
	const kinds = examples('question').map((text) => question.parse(parse(text)).kind);
	expect(kinds).toEqual(['point', 'order', 'interval']);
});

test('the format can be given to editors as JSON Schema', () => {
	expect(lessonJsonSchema()).toMatchObject({
		type: 'object',
		additionalProperties: false,
		required: expect.arrayContaining(['format', 'steps']) as string[]
	});
});
