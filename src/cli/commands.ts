import { circuit } from './circuit.ts';
import type { Command } from './command.ts';
import { correct } from './correct.ts';
import { lesson } from './lesson.ts';
import { speed } from './speed.ts';
import { sweep } from './sweep.ts';
import { truth } from './truth.ts';

/** Every command, in the order the help lists them. */
export const commands: readonly Command[] = [sweep, truth, correct, circuit, lesson, speed];
