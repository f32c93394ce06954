import { expect, test } from 'vitest';
import type { CircuitDevice } from '#lib/bench/device-schema.ts';
import { damageOf } from '#lib/bench/damage.ts';
import type { Damage } from '#lib/bench/history.ts';
import { withDamage, withReplacement, withSweeps } from '#lib/bench/history.ts';
import { BenchSession } from '#lib/bench/session.ts';
import { captionsOf } from '#lib/view/line/captions.ts';
import { columnsOf } from '#lib/view/line/columns.ts';
import { brokenParts, damageWords } from '#lib/view/line/damage-words.ts';
import { deviceSpans } from '#lib/view/line/section.ts';
import { cautionsOf, keyingWords } from '#lib/view/shell/cautions.ts';

const plain = (text: string | null | undefined) => (text ?? '').replace(/\u00a0/g, ' ');

const base = { part: 'device', name: 'Mast preamp', frequency: 169.4e6, cause: 'source' } as const;

test('what broke is said with what was reached and what is borne', () => {
	const events: [Damage, string][] = [
		[
			{ ...base, element: 'Q1', crossed: { quantity: 'reverse voltage', limit: 5.5, reached: 6.0812 } },
			'Q1: 6.08 V in reverse, 5.5 V at most.'
		],
		[
			{ ...base, element: 'Q1', crossed: { quantity: 'current', limit: 0.09, reached: 0.09342 } },
			'Q1: 93.4 mA, 90 mA at most.'
		],
		[
			{ ...base, element: null, crossed: { quantity: 'input power', limit: 10, reached: 12.34 } },
			'12.3 dBm at its connector, 10 dBm at most.'
		],
		[
			{
				...{ ...base, part: 'pad', name: 'Pad', element: null, cause: 'transmitter' },
				crossed: { quantity: 'dissipation', limit: 1, reached: 9.4502 }
			},
			'9.45 W from the transmitter, 1 W at most.'
		]
	];
	for (const [event, words] of events) expect(plain(damageWords(event))).toBe(words);
	const [device, pad] = brokenParts(events.map(([event]) => event));
	expect(device).toMatchObject({ part: 'device', selection: 'device', name: 'Mast preamp' });
	expect(device.words).toHaveLength(3);
	expect(pad).toMatchObject({ part: 'pad', selection: 'part:pad' });
});

test('what was reached and its limit are told apart', () => {
	const words = (crossed: Damage['crossed']) => plain(damageWords({ ...base, element: null, crossed }));
	expect(words({ quantity: 'current', limit: 0.01, reached: 0.010041 })).toBe('10.04 mA, 10 mA at most.');
	expect(words({ quantity: 'input power', limit: 10, reached: 10.021 })).toBe(
		'10.02 dBm at its connector, 10 dBm at most.'
	);
	expect(words({ quantity: 'dissipation', limit: 1, reached: 1.0004 })).toBe('1.0004 W, 1 W at most.');
});

test('a new part that breaks at once says so, with how many were broken', () => {
	const { setup, history } = new BenchSession().document;
	const crossed = { quantity: 'input power', limit: 10, reached: 12 } as const;
	const harm: Damage = { ...base, element: 'Q1', crossed };
	const broke = (before: typeof history, sweeps: number) =>
		withDamage(withSweeps(before, setup, sweeps), harm);
	const said = (after: typeof history) => brokenParts(damageOf(after.events), after.events)[0].again;
	const first = broke(history, 1);
	expect(said(first)).toBeNull();
	const second = broke(withReplacement(first, 'device'), 1);
	expect(said(second)).toBe('The new one broke at once: 2 broken so far.');
	expect(said(broke(withReplacement(second, 'device'), 1))).toContain('3 broken so far');
	// one that stood some sweeps did not break at once
	expect(said(broke(withReplacement(second, 'device'), 5))).toBeNull();
	// a second element of the same one is not another one
	expect(said(broke(broke(withReplacement(first, 'device'), 1), 1))).toContain('2 broken so far');
});

const thrown = (position: string) => {
	const session = new BenchSession();
	session.run({ name: 'set switch', arguments: { switch: 'path', position } });
	return session;
};
const cautions = (session: BenchSession) =>
	cautionsOf(session.document.setup, damageOf(session.document.history.events));

test('a bench that only receives has nothing to be cautious of', () => {
	expect(cautions(new BenchSession())).toEqual([]);
	const cascode = new BenchSession();
	cascode.run({ name: 'choose device', arguments: { device: 'cascode' } });
	expect(cautions(cascode)).toEqual([]);
});

test('the armed path says what would break, in the order in which the bench then breaks it', () => {
	const armed = thrown('transmit');
	const [caution] = cautions(armed);
	expect(caution.armed).toBe('Transmit path armed.');
	const words = plain(caution.consequence);
	expect(words).toMatch(/^If it is keyed, 10 W would go back/);
	expect(words.indexOf('Pad (1 W at most)')).toBeGreaterThan(0);
	expect(words.indexOf('port of the reflectometer (17 dBm at most)')).toBeGreaterThan(words.indexOf('Pad'));
	armed.run({ name: 'set switch', arguments: { switch: 'path', position: 'transmitting' } });
	armed.picture();
	expect(damageOf(armed.document.history.events).map(({ part }) => part)).toEqual(['pad', 'reflectometer']);
});

test('what is safe makes it safe', () => {
	const session = thrown('transmitting');
	const [caution] = cautions(session);
	expect(caution.armed).toBe('Transmitter keyed.');
	session.run(caution.safe.command);
	expect(cautions(session)).toEqual([]);
	expect((session.document.setup.device as CircuitDevice).positions.path).toBe('receive');
});

test('a pad that stands the transmitter is said to: 30 dB of 20 W leave 10 dBm', () => {
	const session = new BenchSession();
	const pad = { part: 'pad', attenuation: '30 dB', powerRating: '20 W' };
	session.run({ name: 'set part', arguments: pad });
	// 40 dBm less 30 dB, and 0.2 dB of cable: under the 17 dBm of the port.
	const words = plain(keyingWords(session.document.setup, [], 'does'));
	expect(words).toMatch(/9\.[78] dBm meets its port\. All parts stand it\.$/);
	const crossed = { quantity: 'input power', limit: 17, reached: 22.6 } as const;
	const port: Damage = { ...base, part: 'reflectometer', name: 'Reflectometer', element: null, crossed };
	expect(keyingWords(session.document.setup, [port], 'does')).toMatch(/its port\. Nothing more breaks\.$/);
});

test('under a burnt pad what it costs now stands beside what it is set to', () => {
	const { setup } = new BenchSession().document;
	const columns = columnsOf(setup, 38, 900);
	const spans = deviceSpans(columns.all.at(-1)!, true);
	const around = { level: '', losses: [17.21, 0.2, 0.05], width: 904, selected: null };
	const captions = captionsOf(setup, columns, spans, { ...around, broken: ['part:pad'] });
	expect(captions[1]).toMatchObject({ value: '20\u00a0dB', now: '17.2\u00a0dB' });
	expect(captions[2].now).toBeUndefined();
	expect(captionsOf(setup, columns, spans, around)[1].now).toBeUndefined();
});
