/** The cautions that go with every printed table and the first screen. */

export const CAUTIONS: readonly string[] = [
  "The map and these figures can be wrong or old.",
  "Handrails, backstops and crossings were found by computer from map data: look at each on the ground before trusting it.",
  "Carry a paper map and a compass, know how to use them, and tell someone where you go and when you will be back.",
  "In doubt, turn back.",
  "Local rules, closures and landowners come first.",
  "Groups need a qualified leader or instructor.",
];

/** Said wherever figures of an invented map are shown. */
export const INVENTED = "Invented map: this is not a real place. Do not walk by it.";
