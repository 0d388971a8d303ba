/** A piece as sound, as it is heard in the window, and when each sign is heard. */
import {
  alignVoices,
  markersCsv,
  markersJson,
  markersOf,
  markersVtt,
  onlyVoice,
  practising,
  type Mix,
  type Performance,
} from "@resolutio/core"
import { RATE, renderedInMemory, wavOf } from "@resolutio/press"
import { performed } from "../../sound/performed.js"
import type { Contents, Format, Known } from "../formats.js"
import { TOOLS } from "../tools.js"

const heard = ({ page, readings, wishes }: Known): Performance =>
  performed(alignVoices(page, readings, { repeats: wishes.hearing.repeats ?? "written" }), wishes.hearing)

/** Making the tones takes the longest; then each file is mixed. */
const SOUNDING = 0.7

async function wav(piece: Known): Promise<Contents> {
  const performance = heard(piece)
  const mixes = mixesOf(performance, piece.wishes.files)
  const source = await renderedInMemory(performance, RATE, TOOLS.bank, share => piece.told(share * SOUNDING))
  const files: [string, Uint8Array][] = []
  for (const [at, { name, mix }] of mixes.entries()) {
    const rest = (share: number): void => piece.told(SOUNDING + (1 - SOUNDING) * ((at + share) / mixes.length))
    files.push([`${name}.wav`, await wavOf(mix, source, rest)])
  }
  return { files }
}

function mixesOf({ voices }: Performance, files: Known["wishes"]["files"]): { name: string; mix: Mix }[] {
  if (files === "all") return [{ name: "", mix: { voices } }]
  return voices
    .filter(one => one.heard)
    .map(({ id, label, n }) => ({
      name: `-${voices.findIndex(one => one.id === id) + 1}-${label || n}`,
      mix: { voices: files === "each" ? onlyVoice(voices, id) : practising(voices, id) },
    }))
}

const markers = (piece: Known) => markersOf(heard(piece), piece.score, piece.readings)

export const SOUND = {
  wav: { ending: ".wav", type: "audio/wav", make: wav },
  markersCsv: { ending: ".markers.csv", type: "text/csv", make: piece => markersCsv(markers(piece)) },
  markersJson: {
    ending: ".markers.json",
    type: "application/json",
    make: piece => markersJson(piece.score.title, markers(piece)),
  },
  markersVtt: {
    ending: ".markers.vtt",
    type: "text/vtt",
    make: piece => markersVtt(piece.score.title, markers(piece)),
  },
} as const satisfies Record<string, Format>
