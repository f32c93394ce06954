/** The parts of the screen that a lesson may show or fold away. */
export const lessonViews: ReadonlySet<string> = new Set([
	'line',
	'corridor',
	'drive',
	'reading',
	'chart',
	'table',
	'tray',
	'truth'
]);
