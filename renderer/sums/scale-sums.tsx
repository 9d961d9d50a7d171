/** The sums with a scale, as sentences with blanks. */
import { sumsWords } from "../words/sums-words.ts";
import { Answer, Blank, shown, SumGroup, Working } from "./blank.tsx";
import { blanks, edgeReading, groundToRuler, meaning, rulerToGround, scaleFound } from "./sums-state.ts";
import type { Worked } from "./worked.ts";

const { scale: scaleWords, ruler: rulerWords } = sumsWords;

export function ScaleSums() {
  const of = meaning.value;
  const found = scaleFound.value;
  return (
    <SumGroup title={scaleWords.title}>
      <p class="sum">
        {scaleWords.says}{" "}
        <Blank
          label={scaleWords.scale}
          value={blanks.scale.value}
          onInput={(text) => (blanks.scale.value = text)}
          least={8}
          of={of}
          first
          test="sum-scale"
        />
        : {scaleWords.perKm} <Answer test="sum-per-km">{shown(of, (v) => `${v.mmPerKm}\u00a0mm`)}</Answer>,{" "}
        {scaleWords.perInch}{" "}
        <Answer test="sum-per-inch">{shown(of, (v) => `${v.feetPerInch}\u00a0ft`)}</Answer>,{" "}
        {scaleWords.perMile}{" "}
        <Answer test="sum-per-mile">{shown(of, (v) => `${v.inchesPerMile}\u00a0in`)}</Answer>.
      </p>
      <Working of={of} test="sum-scale-how" />
      <p class="sum">
        {scaleWords.unknown}{" "}
        <Blank
          label={scaleWords.knownGround}
          value={blanks.knownGround.value}
          onInput={(text) => (blanks.knownGround.value = text)}
          test="sum-known-ground"
        />{" "}
        {scaleWords.is}{" "}
        <Blank
          label={scaleWords.knownRuler}
          value={blanks.knownRuler.value}
          onInput={(text) => (blanks.knownRuler.value = text)}
          placeholder={sumsWords.measured}
          least={6}
          of={found}
          test="sum-known-ruler"
        />{" "}
        {scaleWords.longSo} <Answer test="sum-found-scale">{shown(found, (v) => v.written)}</Answer>.{" "}
        {found.kind === "answer" && (
          <button
            type="button"
            class="button edged small"
            onClick={() => (blanks.scale.value = found.value.written)}
            data-test="sum-use-scale"
          >
            {scaleWords.use}
          </button>
        )}
      </p>
      <Working of={found} test="sum-found-how" />
    </SumGroup>
  );
}

export function RulerSums() {
  const of = meaning.value;
  const [toGround, toRuler, edge] = [rulerToGround.value, groundToRuler.value, edgeReading.value];
  // A wrong scale is said once, where it stands.
  const own = (sum: Worked<unknown>): boolean => of.kind === "answer" || sum.kind !== "fault";
  return (
    <SumGroup title={rulerWords.title}>
      <p class="sum">
        {rulerWords.at(shown(of, (v) => v.written))}{" "}
        <Blank
          label={rulerWords.ruler}
          value={blanks.ruler.value}
          onInput={(text) => (blanks.ruler.value = text)}
          of={toGround}
          test="sum-ruler"
        />{" "}
        {rulerWords.isOnGround}{" "}
        <Answer test="sum-to-ground">{shown(toGround, (v) => `${v.metric}, ${v.imperial}`)}</Answer>{" "}
        {rulerWords.onGround}
      </p>
      {own(toGround) && <Working of={toGround} test="sum-to-ground-how" />}
      <p class="sum">
        <Blank
          label={rulerWords.ground}
          value={blanks.ground.value}
          onInput={(text) => (blanks.ground.value = text)}
          of={toRuler}
          test="sum-ground"
        />{" "}
        {rulerWords.isOnRuler}{" "}
        <Answer test="sum-to-ruler">{shown(toRuler, (v) => `${v.metric}, ${v.imperial}`)}</Answer>{" "}
        {rulerWords.onRuler}
      </p>
      {own(toRuler) && <Working of={toRuler} test="sum-to-ruler-how" />}
      <p class="sum">
        {rulerWords.edge}{" "}
        <Blank
          label={rulerWords.compassScale}
          value={blanks.compass.value}
          onInput={(text) => (blanks.compass.value = text)}
          least={8}
          of={edge}
          test="sum-compass"
        />{" "}
        {rulerWords.reads}{" "}
        <Blank
          label={rulerWords.reading}
          value={blanks.reading.value}
          onInput={(text) => (blanks.reading.value = text)}
          of={edge}
          test="sum-reading"
        />{" "}
        {rulerWords.inTruth}{" "}
        <Answer test="sum-edge">{shown(edge, (v) => `${v.metric}, ${v.imperial}`)}</Answer>.
      </p>
      {own(edge) && <Working of={edge} test="sum-edge-how" />}
    </SumGroup>
  );
}
