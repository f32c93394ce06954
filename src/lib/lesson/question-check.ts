import { Fault } from '#lib/fault.ts';
import { kindAsked, samePlaces } from './answer.ts';
import { allowance } from './grading.ts';
import type { Path, Report } from './parts.ts';
import type { Question } from './question-schema.ts';
import { isAnswer, type Step } from './schema.ts';

/** Whether a question can be answered, has a right answer where one is needed, and names misconceptions. */
export function checkQuestion(step: Step, question: Question, path: Path, report: Report): void {
	const rights = question.answers.filter((answer) => answer.right);
	if (rights.length === 0 && step.kind !== 'decide')
		report(path, 'No answer is marked "right: true".', 'Mark the right one; only a decision may have none.');
	if (step.kind === 'predict')
		question.answers.forEach((answer, i) => {
			if (!answer.right && answer.misconception === undefined)
				report(
					[...path, 'answers', i],
					'A wrong prediction names no misconception.',
					'Add "misconception:", or leave it to "otherwise:".'
				);
		});
	question.answers.forEach((answer, i) => {
		if (answer.right && answer.misconception !== undefined)
			report([...path, 'answers', i], 'A right answer names a misconception.', 'Remove one of the two.');
	});
	if ('otherwise' in question && question.otherwise.right)
		report([...path, 'otherwise'], '"otherwise" is marked right.', 'Write the right case among the answers.');
	if (!step.walk.some(isAnswer))
		report(path, 'The walk gives no answer.', 'Add "- answer: …" to the walk of the step.');
	checkForm(question, path, report);
}

function checkForm(question: Question, path: Path, report: Report): void {
	switch (question.kind) {
		case 'choice':
			checkOnce(
				question.answers.map((answer) => answer.is),
				[...path, 'answers'],
				report
			);
			return;
		case 'order': {
			const ids = question.items.map((item) => item.id);
			checkOnce(ids, [...path, 'items'], report);
			question.answers.forEach((answer, i) => {
				if (!samePlaces([...answer.is].sort(), [...ids].sort()))
					report(
						[...path, 'answers', i, 'is'],
						'The order does not name each item once.',
						`Use each of: ${ids.join(', ')}.`
					);
			});
			return;
		}
		case 'interval':
			checkOnce(
				question.answers.map((answer) => answer.is),
				[...path, 'answers'],
				report
			);
			reported(() => kindAsked(question.unit, ''), [...path, 'unit'], report);
			return;
		case 'number':
			if (reported(() => kindAsked(question.unit, ''), [...path, 'unit'], report))
				reported(() => allowance(question, 1, ''), [...path, 'tolerance'], report);
	}
}

function checkOnce(names: readonly string[], path: Path, report: Report): void {
	names.forEach((name, i) => {
		if (names.indexOf(name) < i)
			report([...path, i], `"${name}" stands here twice.`, 'Give each its own name.');
	});
}

function reported(work: () => unknown, path: Path, report: Report): boolean {
	try {
		work();
		return true;
	} catch (error) {
		if (!(error instanceof Fault)) throw error;
		report(path, error.finding, error.remedy);
		return false;
	}
}
