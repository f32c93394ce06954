import { expect, test } from 'vitest';
import { perform } from './terminal.ts';

test('the last line of --json is one object of rates per second of CPU time', async () => {
	const { code, printed, noted } = await perform('speed', '--json');
	expect(code).toBe(0);
	const rates = JSON.parse(printed.split('\n').at(-1)!) as Record<string, number>;
	expect(Object.keys(rates)).toEqual([
		'w1_readings_per_cpu_s',
		'w2_points_per_cpu_s',
		'preamp_sweep_points_per_cpu_s',
		'preamp_levels_points_per_cpu_s'
	]);
	expect(Object.values(rates).every((rate) => rate > 100 && Number.isFinite(rate))).toBe(true);
	expect(noted).toContain('measuring');
}, 60_000);

test('it takes no file', async () => {
	const { code, noted } = await perform('speed', 'preamp.netlist.yaml');
	expect(code).toBe(2);
	expect(noted).toContain('It takes none: write faint-echo speed.');
});
