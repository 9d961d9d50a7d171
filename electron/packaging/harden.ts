/** The step of packaging that sets the fuses of an Electron program: `npm run harden -- <path of the program>`. */
import { flipFuses } from "@electron/fuses";
import { FUSES } from "./fuses.ts";

const [program] = process.argv.slice(2);
if (program === undefined) {
  process.stderr.write("Name the packaged program, such as out/Legwright/legwright.\n");
  process.exitCode = 2;
} else {
  try {
    await flipFuses(program, FUSES);
    process.stdout.write(`The fuses of ${program} are set.\n`);
  } catch (error) {
    process.stderr.write(
      `The fuses could not be set: ${error instanceof Error ? error.message : String(error)}\n`,
    );
    process.exitCode = 1;
  }
}
