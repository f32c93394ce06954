import { calibrationCommands } from './commands-calibration.ts';
import { deviceCommands } from './commands-device.ts';
import { partCommands } from './commands-part.ts';
import { settingCommands } from './commands-setting.ts';
import type { CommandDefinition } from './command.ts';

/** Every command there is, by name: the one table that screens, keys, lessons, links and the command line read. */
export const commands: ReadonlyMap<string, CommandDefinition> = new Map(
	[...settingCommands, ...partCommands, ...deviceCommands, ...calibrationCommands].map((c) => [c.name, c])
);
