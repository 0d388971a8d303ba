/** Markers as CSV, JSON and WebVTT. */
import { csvText, rounded } from "../csv-text.js"
import type { Marker } from "./markers.js"

export const MARKER_COLUMNS = [
  "start",
  "end",
  "voice",
  "place",
  "id",
  "kind",
  "pitch",
  "bar",
  "rule",
  "passage",
] as const

/** A line for each marker under the names of the columns; seconds with six digits at most. */
export function markersCsv(markers: readonly Marker[]): string {
  const rows = markers.map(one => MARKER_COLUMNS.map(column => text(one[column])))
  return csvText([[...MARKER_COLUMNS], ...rows])
}

const text = (value: string | number | null): string => (typeof value === "number" ? rounded(value) : (value ?? ""))

/** One object: `{ "format": "resolutio-markers", "version": 1, "title": …, "markers": […] }`. */
export function markersJson(title: string, markers: readonly Marker[]): string {
  const listed = markers.map(one => ({ ...one, start: Number(rounded(one.start)), end: Number(rounded(one.end)) }))
  return JSON.stringify({ format: "resolutio-markers", version: 1, title, markers: listed }, null, 1) + "\n"
}

/** WebVTT (W3C Candidate Recommendation, 4 April 2019): a cue for each marker, its voice as the speaker. */
export function markersVtt(title: string, markers: readonly Marker[]): string {
  const head = title === "" ? "WEBVTT" : `WEBVTT ${plain(title)}`
  const cues = markers.map((one, n) => {
    const end = Math.max(one.end, one.start + 0.001)
    const told = [
      one.kind === "plica" ? "plica" : "",
      one.pitch,
      one.bar === null ? "" : `bar ${one.bar}`,
      one.rule,
      one.passage,
    ]
    const words = [one.place, ...told.filter(part => part !== "")].map(escaped).join(", ")
    return `${n + 1}\n${stamp(one.start)} --> ${stamp(end)}\n<v ${escaped(plain(one.voice))}>${words}</v>`
  })
  return [head, ...cues].join("\n\n") + "\n"
}

function stamp(seconds: number): string {
  const all = Math.round(seconds * 1000)
  const part = (number: number, digits: number) => String(number).padStart(digits, "0")
  const clock = [Math.floor(all / 3_600_000), Math.floor(all / 60_000) % 60, Math.floor(all / 1000) % 60]
  return `${clock.map(one => part(one, 2)).join(":")}.${part(all % 1000, 3)}`
}

/** Neither line ends nor an arrow may stand where a cue begins. */
const plain = (words: string): string =>
  words
    .replace(/[\r\n]+/g, " ")
    .replaceAll("-->", "→")
    .trim()

function escaped(words: string): string {
  return plain(words).replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;")
}
