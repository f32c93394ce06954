import { addDepletion } from './depletion.ts';
import { exponentLimit, junctionPort, LEAST_CONDUCTANCE } from './laws.ts';
import type { Law } from './laws.ts';
import type { BipolarModel } from './netlist.ts';

/**
 * NPN transistor with ports base–emitter and base–collector (transport form of Ebers & Moll 1954, with the Early
 * voltage on the collector side as in Gummel & Poon 1970). With w = 1 − vbc/VAF, If and Ir the junction exponentials:
 * It = (If − Ir)·w, collector current It − Ir/BR, base current If/BF + Ir/BR. So the port currents are
 * base–emitter If/BF + It and base–collector Ir/BR − It. Charges: TF·If·w and TR·Ir beside the depletion charges.
 */
export function bipolarLaw(model: BipolarModel): Law {
	const { saturationCurrent: is, forwardGain, reverseGain, earlyVoltage } = model;
	const { forwardTransit, reverseTransit, baseEmitter, baseCollector } = model;
	const ports = [
		junctionPort('base-emitter', is, model.forwardEmission, 0.02),
		junctionPort('base-collector', is, model.reverseEmission, 0.02)
	];
	const forward = 1 / ports[0].junction.slope;
	const reverse = 1 / ports[1].junction.slope;
	const limit = exponentLimit(is);
	const early = 1 / earlyVoltage;
	return {
		ports,
		charged:
			forwardTransit > 0 ||
			reverseTransit > 0 ||
			baseEmitter.capacitance > 0 ||
			baseCollector.capacitance > 0,
		evaluate(count, voltage, out) {
			const [be, bc] = voltage;
			const [iBe, iBc] = out.current;
			const [qBe, qBc] = out.charge;
			const [gEe, gEc, gCe, gCc] = out.conductance;
			const [cEe, cEc, cCe, cCc] = out.capacitance;
			for (let m = 0; m < count; m++) {
				const x = be[m] * forward;
				const y = bc[m] * reverse;
				const xWithin = x < limit ? x : limit;
				const yWithin = y < limit ? y : limit;
				const ex = is * Math.exp(xWithin);
				const ey = is * Math.exp(yWithin);
				const iF = ex * (1 + (x - xWithin)) - is;
				const iR = ey * (1 + (y - yWithin)) - is;
				const gF = ex * forward;
				const gR = ey * reverse;
				const w = 1 - bc[m] * early;
				const through = (iF - iR) * w;
				const byE = gF * w;
				const byC = -gR * w - (iF - iR) * early;
				iBe[m] = iF / forwardGain + through + LEAST_CONDUCTANCE * be[m];
				iBc[m] = iR / reverseGain - through + LEAST_CONDUCTANCE * bc[m];
				gEe[m] = gF / forwardGain + byE + LEAST_CONDUCTANCE;
				gEc[m] = byC;
				gCe[m] = -byE;
				gCc[m] = gR / reverseGain - byC + LEAST_CONDUCTANCE;
				qBe[m] = forwardTransit * iF * w;
				qBc[m] = reverseTransit * iR;
				cEe[m] = forwardTransit * byE;
				cEc[m] = -forwardTransit * iF * early;
				cCe[m] = 0;
				cCc[m] = reverseTransit * gR;
			}
			addDepletion(baseEmitter, count, be, qBe, cEe);
			addDepletion(baseCollector, count, bc, qBc, cCc);
		}
	};
}
