/** The files a map is to be made of, and what was seen in them. Kept while the window stands. */
import { batch, signal } from "@preact/signals";
import { Fault } from "../../core/fault.ts";
import type { DataKind, DataLook, ElevationSurvey, FileHandle } from "../../electron/contract.ts";
import { host } from "../host/host.ts";

export interface DataFile {
  readonly handle: FileHandle;
  readonly as: DataKind;
  /** Null while it is looked at. */
  readonly look: DataLook | Fault | null;
}

export const dataFiles = signal<readonly DataFile[]>([]);
/** Coordinate systems typed by the person; empty where the files say theirs. */
export const crsTyped = signal<Readonly<Record<DataKind, string>>>({ elevation: "", features: "" });
export const heightUnit = signal<"m" | "ft" | null>(null);
/** All elevation together; null while it is looked over, or cannot be. */
export const survey = signal<ElevationSurvey | Fault | null>(null);

export const crsOf = (as: DataKind): string | null => crsTyped.value[as].trim() || null;
export const filesOf = (as: DataKind): readonly DataFile[] =>
  dataFiles.value.filter((file) => file.as === as);
export const isLook = (look: DataFile["look"]): look is DataLook => look !== null && !(look instanceof Fault);

/** Files that only belong beside another. */
const BESIDE = /\.(prj|dbf|shx|cpg)$/i;
const ELEVATION = /\.(tiff?|hgt|asc|hgt\.zip)$/i;

export const looksLikeElevation = (name: string): boolean => ELEVATION.test(name);

/** @param as left out, each file is what its name or else its content says */
export async function addDataFiles(handles: readonly FileHandle[], as?: DataKind): Promise<void> {
  const fresh = handles.filter(
    ({ id, name }) => !BESIDE.test(name) && !dataFiles.peek().some(({ handle }) => handle.id === id),
  );
  dataFiles.value = [
    ...dataFiles.peek(),
    ...fresh.map((handle) => ({
      handle,
      as: as ?? (looksLikeElevation(handle.name) ? ("elevation" as const) : ("features" as const)),
      look: null,
    })),
  ];
  for (const { id, name } of fresh) await lookAt(id, as === undefined && /\.zip$/i.test(name));
  await surveyAgain();
}

export async function leaveOut(id: string): Promise<void> {
  dataFiles.value = dataFiles.peek().filter(({ handle }) => handle.id !== id);
  await surveyAgain();
}

/** What was typed holds for the files again. */
export async function lookAgain(as: DataKind): Promise<void> {
  for (const { handle } of filesOf(as)) await lookAt(handle.id, false);
  if (as === "elevation") await surveyAgain();
}

/** @param orElevation a zip may hold either */
async function lookAt(id: string, orElevation: boolean): Promise<void> {
  const file = dataFiles.peek().find(({ handle }) => handle.id === id);
  if (!file) return;
  const put = (change: Partial<DataFile>): void => {
    dataFiles.value = dataFiles.peek().map((one) => (one.handle.id === id ? { ...one, ...change } : one));
  };
  put({ look: null });
  const look = async (as: DataKind): Promise<DataLook | Fault> => {
    try {
      return await host.lookAtData(id, as, crsOf(as));
    } catch (thrown) {
      return Fault.from(thrown);
    }
  };
  const first = await look(file.as);
  if (orElevation && first instanceof Fault && first.code !== "no-crs") {
    const second = await look("elevation");
    if (!(second instanceof Fault)) return put({ as: "elevation", look: second });
  }
  put({ look: first });
}

let turn = 0;

export async function surveyAgain(): Promise<void> {
  const mine = ++turn;
  survey.value = null;
  const files = filesOf("elevation");
  if (files.length === 0 || !files.every(({ look }) => isLook(look))) return;
  let found: ElevationSurvey | Fault;
  try {
    found = await host.surveyElevation({
      elevation: files.map(({ handle }) => handle.id),
      crs: crsOf("elevation"),
      heightUnit: heightUnit.peek(),
      bounds: null,
    });
  } catch (thrown) {
    found = Fault.from(thrown);
  }
  if (mine === turn) survey.value = found;
}

/** After a map was made. */
export function clearDataFiles(): void {
  batch(() => {
    dataFiles.value = [];
    crsTyped.value = { elevation: "", features: "" };
    heightUnit.value = null;
    survey.value = null;
  });
}
