/** The files that are offered, without the code that makes them: that is loaded where they are made. */
export const FORMATS = {
  mei: { ending: ".mei", type: "application/mei+xml" },
  figurae: { ending: ".figurae", type: "text/plain" },
  musicxml: { ending: ".musicxml", type: "application/vnd.recordare.musicxml+xml" },
  modern: { ending: ".modern.mei", type: "application/mei+xml" },
  midi: { ending: ".mid", type: "audio/midi" },
  csv: { ending: ".csv", type: "text/csv" },
  json: { ending: ".json", type: "application/json" },
  pageSvg: { ending: ".page.svg", type: "image/svg+xml" },
  timeSvg: { ending: ".time.svg", type: "image/svg+xml" },
} as const
export type FormatName = keyof typeof FORMATS
