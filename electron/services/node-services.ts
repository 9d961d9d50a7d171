import { readInfo } from "../../core/map/read-info.ts";
import type { App } from "./app-folder.ts";
import { openConfSettings } from "./conf-settings.ts";
import type { FileChooser } from "./file-chooser.ts";
import { settingsFolder, walksFolder } from "./folders.ts";
import type { GivenFiles } from "./given-files.ts";
import { GROUND_DECODERS } from "./ground-decoders.ts";
import { createServices, type Services } from "./services.ts";

/** The services on plain Node, for the browser host: files chosen on the page, no printer of its own. */
export function nodeServices(
  app: App,
  chooserFor: (folder: string) => FileChooser,
  given: GivenFiles,
): Services {
  const folder = walksFolder();
  return createServices({
    app,
    host: { host: "browser", dialogs: "page", folderName: folder.split(/[/\\]/).slice(-2).join("/") },
    walksFolder: folder,
    settings: openConfSettings(settingsFolder()),
    chooser: chooserFor(folder),
    printer: null,
    given,
    readInfo: (source) => readInfo(source, GROUND_DECODERS),
  });
}
