import { basename } from "node:path";
import { Fault } from "../../core/fault.ts";

/** What the person is told of is a name, not a path: messages end up on screenshots and in reports. */
const nameOf = (path: string): string => basename(path);

/**
 * The Fault for an error of the file system.
 * @param doing what was tried, as in "could not be saved"
 */
export function fileFault(thrown: unknown, path: string, doing: string): Fault {
  if (thrown instanceof Fault) return thrown;
  const code = (thrown as NodeJS.ErrnoException | null)?.code;
  const what = (reason: string): string => `The file ${doing}: ${reason}.`;
  const where = nameOf(path);
  switch (code) {
    case "ENOENT":
    case "ENOTDIR":
      return new Fault(
        "no-file",
        what("it or its folder is not there"),
        where,
        "Check that the disk is connected, or choose another place.",
      );
    case "ENOSPC":
    case "EDQUOT":
      return new Fault(
        "no-space",
        what("the disk is full"),
        where,
        "Free some space, or choose another disk.",
      );
    case "EROFS":
    case "EACCES":
    case "EPERM":
      return new Fault(
        "read-only",
        what("this place cannot be written or read"),
        where,
        "Choose another place.",
      );
    case "EEXIST":
      return new Fault(
        "exists",
        "There is a file of this name already.",
        where,
        "Choose another name, or replace it.",
      );
    case "EISDIR":
      return new Fault("bad-argument", what("it is a folder"), where, "Choose a file.");
    case "ENAMETOOLONG":
      return new Fault("bad-argument", what("its name is too long"), where, "Choose a shorter name.");
    case "EBUSY":
    case "EMFILE":
    case "ENFILE":
      return new Fault(
        "unavailable",
        what("another program holds it"),
        where,
        "Close the other program, then try again.",
      );
    case "EIO":
    case "ENXIO":
    case "ENODEV":
    case "ESTALE":
      return new Fault(
        "unavailable",
        what("the disk does not answer as it should"),
        where,
        "Check that the disk is connected, or choose another one.",
      );
    default:
      return new Fault(
        "internal",
        what(thrown instanceof Error ? thrown.message : String(thrown)),
        where,
        null,
      );
  }
}
