import { addDepletion } from './depletion.ts';
import { exponentLimit, junctionPort, LEAST_CONDUCTANCE } from './laws.ts';
import type { Law } from './laws.ts';
import type { FieldEffectModel } from './netlist.ts';

/**
 * N-channel junction field-effect transistor with ports gate–source and gate–drain (square law, Shichman & Hodges 1968).
 * Channel current for vds ≥ 0 and u = vgs − threshold: none for u ≤ 0, β·u²·(1 + λ·vds) for u < vds, otherwise
 * β·vds·(2u − vds)·(1 + λ·vds); for vds < 0 drain and source change places. Each gate junction conducts as a diode
 * (N = 1) and holds a depletion charge. Port currents: gate–source junction + channel, gate–drain junction − channel.
 */
export function fieldEffectLaw(model: FieldEffectModel): Law {
	const { threshold, transconductance: beta, channelModulation: lambda, saturationCurrent: is } = model;
	const { gateSource, gateDrain } = model;
	const ports = [junctionPort('gate-source', is, 1, 2e-4), junctionPort('gate-drain', is, 1, 2e-4)];
	const inverse = 1 / ports[0].junction.slope;
	const limit = exponentLimit(is);
	return {
		ports,
		charged: gateSource.capacitance > 0 || gateDrain.capacitance > 0,
		evaluate(count, voltage, out) {
			for (let p = 0; p < 2; p++) {
				const v = voltage[p];
				const current = out.current[p];
				const own = out.conductance[3 * p];
				for (let m = 0; m < count; m++) {
					const x = v[m] * inverse;
					const within = x < limit ? x : limit;
					const e = is * Math.exp(within);
					current[m] = e * (1 + (x - within)) - is + LEAST_CONDUCTANCE * v[m];
					own[m] = e * inverse + LEAST_CONDUCTANCE;
				}
			}
			const [gs, gd] = voltage;
			const [iGs, iGd] = out.current;
			const [gSs, gSd, gDs, gDd] = out.conductance;
			for (let m = 0; m < count; m++) {
				// the end of the channel at the higher gate voltage acts as source, whichever it is called
				const turned = gs[m] < gd[m];
				const high = turned ? gd[m] : gs[m];
				const across = turned ? gd[m] - gs[m] : gs[m] - gd[m];
				const u = high - threshold;
				let channel = 0;
				let byGate = 0;
				let byAcross = 0;
				if (u > 0) {
					const tilt = 1 + lambda * across;
					const square = u < across ? u * u : across * (2 * u - across);
					channel = beta * square * tilt;
					byGate = beta * tilt * 2 * (u < across ? u : across);
					byAcross = beta * (square * lambda + (u < across ? 0 : 2 * (u - across) * tilt));
				}
				// derivatives by the voltages of the acting source port and the acting drain port
				const bySource = byGate + byAcross;
				const byDrain = -byAcross;
				const sign = turned ? -1 : 1;
				const byS = sign * (turned ? byDrain : bySource);
				const byD = sign * (turned ? bySource : byDrain);
				iGs[m] += sign * channel;
				iGd[m] -= sign * channel;
				gSs[m] += byS;
				gSd[m] = byD;
				gDs[m] = -byS;
				gDd[m] -= byD;
			}
			const [qGs, qGd] = out.charge;
			const [cSs, cSd, cDs, cDd] = out.capacitance;
			for (let m = 0; m < count; m++) qGs[m] = qGd[m] = cSs[m] = cSd[m] = cDs[m] = cDd[m] = 0;
			addDepletion(gateSource, count, gs, qGs, cSs);
			addDepletion(gateDrain, count, gd, qGd, cDd);
		}
	};
}
