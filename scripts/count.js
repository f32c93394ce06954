/** Reads how many tests passed and failed from what the runners write down. A skipped test counts as failed. */
import { existsSync, readFileSync } from 'node:fs';

const read = (file) => (existsSync(file) ? JSON.parse(readFileSync(file, 'utf8')) : undefined);

/** A runner that crashed, ran nothing, or ended badly without naming a failed test counts as one failed. */
function judge({ passed, failed }, endedWell) {
	if (failed === 0 && (!endedWell || passed === 0)) return { passed, failed: 1 };
	return { passed, failed };
}

export function countVitest(file, endedWell) {
	const report = read(file);
	if (!report) return { passed: 0, failed: 1 };
	const unloaded = report.testResults.filter(
		(suite) => suite.status === 'failed' && !suite.assertionResults.some(({ status }) => status === 'failed')
	);
	return judge(
		{ passed: report.numPassedTests, failed: report.numTotalTests - report.numPassedTests + unloaded.length },
		endedWell
	);
}

export function countPlaywright(file, endedWell) {
	const report = read(file);
	if (!report) return { passed: 0, failed: 1 };
	const { expected, unexpected, flaky, skipped } = report.stats;
	return judge({ passed: expected, failed: unexpected + flaky + skipped }, endedWell);
}
