/** All open dialogs, the newest on top. */
import { lazy, Suspense } from "preact/compat";
import { CautionsDialog } from "./cautions-dialog.tsx";
import { openDialogs, type OpenDialog } from "./dialogs.ts";
import { MapsDialog } from "../map-case/maps-dialog.tsx";
import { PickFilesDialog } from "../map-case/pick-files-dialog.tsx";
import { OpenWalkDialog } from "./open-walk-dialog.tsx";
import { QuestionDialog } from "./question-dialog.tsx";
import { SaveNameDialog } from "./save-name-dialog.tsx";
import { WaitingDialog } from "./waiting-dialog.tsx";

// Read when they are first asked for: a window with its map needs none of them.
const AboutDialog = lazy(() => import("../about/about-dialog.tsx").then((file) => file.AboutDialog));
const RolesDialog = lazy(() => import("../map-case/roles-dialog.tsx").then((file) => file.RolesDialog));
const MakeMapDialog = lazy(() =>
  import("../make-map/make-map-dialog.tsx").then((file) => file.MakeMapDialog),
);
const ExportDialog = lazy(() => import("../exchange/export-dialog.tsx").then((file) => file.ExportDialog));
const ImportDialog = lazy(() => import("../exchange/import-dialog.tsx").then((file) => file.ImportDialog));
const PrintScreen = lazy(() => import("../print/print-screen.tsx").then((file) => file.PrintScreen));
const SettingsDialog = lazy(() =>
  import("../settings/settings-dialog.tsx").then((file) => file.SettingsDialog),
);
const DrillScreen = lazy(() => import("../drills/drill-screen.tsx").then((file) => file.DrillScreen));
const FieldScreen = lazy(() => import("../small-ground/field-screen.tsx").then((file) => file.FieldScreen));
const CourseScreen = lazy(() => import("../course/course-screen.tsx").then((file) => file.CourseScreen));
const ScoreDialog = lazy(() => import("../small-ground/score-dialog.tsx").then((file) => file.ScoreDialog));
const RecoveryDialog = lazy(() =>
  import("../recovery/recovery-dialog.tsx").then((file) => file.RecoveryDialog),
);
const VersionsDialog = lazy(() =>
  import("../recovery/versions-dialog.tsx").then((file) => file.VersionsDialog),
);
const SumsDialog = lazy(() => import("../sums/sums-dialog.tsx").then((file) => file.SumsDialog));

export function DialogLayer() {
  return (
    <>
      {openDialogs.value.map((dialog) => (
        <Suspense key={dialog.id} fallback={null}>
          <One dialog={dialog} />
        </Suspense>
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
    case "drills":
      return <DrillScreen answer={dialog.answer} />;
    case "small-ground":
      return <FieldScreen answer={dialog.answer} />;
    case "course-sheets":
      return <CourseScreen answer={dialog.answer} />;
    case "scoring":
      return <ScoreDialog answer={dialog.answer} />;
    case "sums":
      return <SumsDialog answer={dialog.answer} />;
    case "settings":
      return <SettingsDialog answer={dialog.answer} />;
    case "recovery":
      return <RecoveryDialog {...dialog.asked} answer={dialog.answer} />;
    case "versions":
      return <VersionsDialog answer={dialog.answer} />;
    case "about":
      return <AboutDialog answer={dialog.answer} />;
    case "cautions":
      return <CautionsDialog answer={dialog.answer} />;
  }
}
