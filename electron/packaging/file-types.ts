/**
 * The files a packaged Legwright opens on a double click, and how each system is told: one table, written out by
 * `npm run file-types -- FOLDER`. No type is taken from the program that has it: Legwright is offered beside it.
 */

interface FileType {
  readonly id: string;
  readonly description: string;
  /** Without the first dot; the last part alone is what macOS and Windows go by. */
  readonly ending: string;
  readonly mediaType: string;
  /** A type every file of this one is, so that other programs open it too. */
  readonly kindOf: string | null;
  /** Whether files are written as well. */
  readonly edited: boolean;
}

export const FILE_TYPES: readonly FileType[] = [
  {
    id: "walk",
    description: "Legwright walk",
    ending: "walk.geojson",
    mediaType: "application/x-legwright-walk+json",
    kindOf: "application/geo+json",
    edited: true,
  },
  {
    id: "map",
    description: "Map archive (PMTiles)",
    ending: "pmtiles",
    mediaType: "application/vnd.pmtiles",
    kindOf: null,
    edited: false,
  },
];

const NAME = "Legwright";
const SUMMARY = "Plan a walk leg by leg on a topographic map, for map and compass";

const escaped = (text: string): string =>
  text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll('"', "&quot;");

/** Shared MIME-info Database specification, version 0.21. Installed into share/mime/packages. */
export function mimePackage(): string {
  const types = FILE_TYPES.map(
    ({ mediaType, description, kindOf, ending, id }) => `  <mime-type type="${mediaType}">
    <comment>${escaped(description)}</comment>
${kindOf === null ? "" : `    <sub-class-of type="${kindOf}"/>\n`}${
      // What it begins with: registration of application/vnd.pmtiles with IANA, "Magic number(s)".
      id === "map"
        ? '    <magic priority="50"><match type="string" offset="0" value="PMTiles"/></magic>\n'
        : ""
    }    <glob pattern="*.${ending}"/>
  </mime-type>`,
  );
  return `<?xml version="1.0" encoding="UTF-8"?>
<mime-info xmlns="http://www.freedesktop.org/standards/shared-mime-info">
${types.join("\n")}
</mime-info>
`;
}

/** Desktop Entry Specification, version 1.5. Installed into share/applications; %F is a list of files. */
export function desktopEntry(program: string): string {
  const quoted = /^[\w./-]+$/.test(program) ? program : `"${program.replaceAll(/["`$\\]/g, "\\$&")}"`;
  return `[Desktop Entry]
Type=Application
Version=1.5
Name=${NAME}
Comment=${SUMMARY}
Exec=${quoted} %F
Icon=legwright
Terminal=false
Categories=Science;Geography;Maps;
MimeType=${FILE_TYPES.map(({ mediaType }) => `${mediaType};`).join("")}
StartupWMClass=${NAME}
`;
}

const last = (ending: string): string => ending.split(".").at(-1) ?? ending;

/** Members for Info.plist: Apple's "Information Property List", CFBundleDocumentTypes. */
export function plistMembers(): string {
  const types = FILE_TYPES.map(
    ({ description, ending, mediaType, edited }) => `    <dict>
      <key>CFBundleTypeName</key><string>${escaped(description)}</string>
      <key>CFBundleTypeRole</key><string>${edited ? "Editor" : "Viewer"}</string>
      <key>LSHandlerRank</key><string>Alternate</string>
      <key>CFBundleTypeExtensions</key><array><string>${last(ending)}</string></array>
      <key>CFBundleTypeMIMETypes</key><array><string>${mediaType}</string></array>
    </dict>`,
  );
  return `<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE plist PUBLIC "-//Apple//DTD PLIST 1.0//EN" "http://www.apple.com/DTDs/PropertyList-1.0.dtd">
<plist version="1.0">
<dict>
  <key>CFBundleDocumentTypes</key>
  <array>
${types.join("\n")}
  </array>
</dict>
</plist>
`;
}

/**
 * Entries of the registry for one person: Microsoft's "File Types and File Associations", OpenWithProgIds.
 * @param program its full path
 */
export function registryEntries(program: string): string {
  const path = program.replaceAll("\\", "\\\\");
  const keys = FILE_TYPES.map(({ id, description, ending }) => {
    const progId = `${NAME}.${id}.1`;
    const root = "HKEY_CURRENT_USER\\Software\\Classes";
    return `[${root}\\${progId}]
@="${description}"

[${root}\\${progId}\\shell\\open\\command]
@="\\"${path}\\" \\"%1\\""

[${root}\\.${last(ending)}\\OpenWithProgids]
"${progId}"=""
`;
  });
  return ["Windows Registry Editor Version 5.00\n", ...keys].join("\n").replaceAll("\n", "\r\n");
}
