import type { FrontEnd } from '../front-end.ts';
import { activeWhip } from './active-whip.ts';
import { cascode } from './cascode.ts';
import { crystal } from './crystal.ts';
import { levelDetector } from './level-detector.ts';
import { limiter } from './limiter.ts';
import { mastPreamp } from './mast-preamp.ts';
import { varactorTag } from './varactor-tag.ts';

/** The front ends there are to measure. */
export const frontEnds: readonly FrontEnd[] = [
	mastPreamp,
	cascode,
	activeWhip,
	levelDetector,
	limiter,
	varactorTag,
	crystal
];
