/** Node option `--import`: whoever imports "electron" gets the stand-in, the packages included. */
import { register } from "node:module";

const hooks = `
const STAND_IN = ${JSON.stringify(new URL("./electron.mjs", import.meta.url).href)};
export const resolve = (specifier, context, next) =>
  specifier === "electron" ? { url: STAND_IN, shortCircuit: true } : next(specifier, context);
`;
register(`data:text/javascript,${encodeURIComponent(hooks)}`);
