/** All open dialogs, the newest on top. */
import { AboutDialog } from "../about/about-dialog.tsx";
import { CautionsDialog } from "./cautions-dialog.tsx";
import { openDialogs, type OpenDialog } from "./dialogs.ts";
import { RolesDialog } from "../map-case/roles-dialog.tsx";
import { MapsDialog } from "../map-case/maps-dialog.tsx";
import { PickFilesDialog } from "../map-case/pick-files-dialog.tsx";
import { MakeMapDialog } from "../make-map/make-map-dialog.tsx";
import { ExportDialog } from "../exchange/export-dialog.tsx";
import { ImportDialog } from "../exchange/import-dialog.tsx";
import { OpenWalkDialog } from "./open-walk-dialog.tsx";
import { PrintScreen } from "../print/print-screen.tsx";
import { QuestionDialog } from "./question-dialog.tsx";
import { SaveNameDialog } from "./save-name-dialog.tsx";
import { WaitingDialog } from "./waiting-dialog.tsx";
import { SettingsDialog } from "../settings/settings-dialog.tsx";
import { SumsDialog } from "../sums/sums-dialog.tsx";

export function DialogLayer() {
  return (
    <>
      {openDialogs.value.map((dialog) => (
        <One key={dialog.id} dialog={dialog} />
      ))}
    </>
  );
}

function One({ dialog }: { readonly dialog: OpenDialog }) {
  switch (dialog.kind) {
    case "open-walk":
      return <OpenWalkDialog {...dialog.asked} answer={dialog.answer} />;
    case "save-name":
      return <SaveNameDialog {...dialog.asked} answer={dialog.answer} />;
    case "question":
      return <QuestionDialog {...dialog.asked} answer={dialog.answer} />;
    case "print":
      return <PrintScreen answer={dialog.answer} />;
    case "waiting":
      return <WaitingDialog {...dialog.asked} answer={dialog.answer} />;
    case "maps":
      return <MapsDialog answer={dialog.answer} />;
    case "make-map":
      return <MakeMapDialog answer={dialog.answer} />;
    case "pick-files":
      return <PickFilesDialog {...dialog.asked} answer={dialog.answer} />;
    case "roles":
      return <RolesDialog answer={dialog.answer} />;
    case "import":
      return <ImportDialog answer={dialog.answer} />;
    case "export":
      return <ExportDialog answer={dialog.answer} />;
    case "sums":
      return <SumsDialog answer={dialog.answer} />;
    case "settings":
      return <SettingsDialog answer={dialog.answer} />;
    case "about":
      return <AboutDialog answer={dialog.answer} />;
    case "cautions":
      return <CautionsDialog answer={dialog.answer} />;
  }
}
