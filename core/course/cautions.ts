/** What stands beside practice on paper and on small ground. */

export const DRILL_CAUTIONS: readonly string[] = [
  "Answers are worked out from the map’s data: measure them once on the printed sheet before you hand it out.",
  "The norths are those of this place and day: another place or year has others.",
  "Practice on paper prepares for practice on the ground with someone qualified; it does not replace it.",
];

export const FIELD_CAUTIONS: readonly string[] = [
  "Ask whoever keeps the ground, and walk over all of it first: holes, glass, ditches, water, roads and play of others.",
  "Learners look down at the compass: keep legs off roads, car parks, banks and water, and have someone watch.",
  "Goalposts, fences, cars and phones turn the needle: take each bearing from the stake twice before you trust it.",
  "Take up every stake afterwards.",
];
