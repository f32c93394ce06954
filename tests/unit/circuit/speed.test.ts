import { expect, test } from 'vitest';
import { drivenJob } from '#lib/circuit/speed.ts';

test('the job for measuring speed gives the numbers of a native program written apart from this one', () => {
	const job = drivenJob();
	const answers = job.run();
	expect(answers).toHaveLength(job.points * 30);
	// point, coefficient, value; the second junction counts the other way there
	for (const [point, coefficient, value] of [
		[0, 0, -0.0010043336374173694],
		[0, 1, 0.5472695897099453],
		[0, 16, -0.5331949146532856],
		[100, 2, 0.1761763965807187],
		[100, 17, -0.2114453688185696],
		[200, 1, 0.33592924521043305],
		[200, 29, 2.7834822604539314e-5]
	])
		expect(answers[point * 30 + coefficient]).toBeCloseTo(value, 12);
});
