/** What is said when something under the window fails and it goes on. */
export const faultWords = {
  workerAgain: "Working out the figures stopped; it was begun again by itself.",
  workerStopped: "Working out the figures stops each time it is begun.",
  workerRemedy: "Save the walk, then load the window again.",
  pictureLost: "The graphics system gave up the map’s picture; it is drawn again as soon as that can be.",
  pictureBack: "The map is drawn again.",
  mapGone: (name: string) =>
    `The file ${name} was moved, removed or replaced while it was open; what was opened is used until a map is opened.`,
  openAgain: "Open it again",
  openAgainTitle: (title: string) => `Open ${title} again: its file was changed`,
} as const;
