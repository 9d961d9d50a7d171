/** Words of the page that says what the program is. */
export const aboutWords = {
  command: "About Legwright…",
  title: (version: string) => `Legwright ${version}`,
  what: "Plans walks leg by leg for map and compass. It works without any network and sends nothing anywhere.",
  licence:
    "Free software under the MIT licence: use it, change it, pass it on. It comes without any warranty.",
  mapTitle: "Data of the open map",
  map: "Map",
  source: "Source",
  attribution: "Attribution",
  date: "Date of the data",
  noMap: "No map is open.",
  modelsTitle: "Models",
  models:
    "Declination: World Magnetic Model (NOAA NCEI and British Geological Survey). Distances and bearings: geodesics on WGS 84.",
  packagesTitle: "Open-source packages in it, with their licences",
  close: "Close",
};
