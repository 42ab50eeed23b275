// SPDX-License-Identifier: GPL-3.0-or-later
// unpack.mjs SUITE FOLDER: each text of the suite as a file of its own.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';

const [suite, folder] = process.argv.slice(2);
const { parsing } = await import(pathToFileURL(join(suite, 'index.js')));
for (const { name, input } of parsing) writeFileSync(join(folder, name), input);
