/** A piece as sound, as it is heard in the window, and when each sign is heard. */
import {
  alignVoices,
  excerpt,
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
import { countedIn, performed } from "../../sound/performed.js"
import type { Contents, Format, Known } from "../formats.js"
import { TOOLS } from "../tools.js"
import { momentsWished } from "./passage.js"

/** The part that is wanted, as often as it is, with the beats before it. */
function heard(piece: Known): Performance {
  const { page, readings, wishes } = piece
  const { hearing, times } = wishes
  const score = alignVoices(page, readings, { repeats: hearing.repeats ?? "written" })
  const moments = momentsWished(piece)
  if (times === 1 && !moments.from) return performed(score, hearing)
  const part = excerpt(performed(score, { ...hearing, countIn: false }), { ...moments, times })
  return hearing.countIn ? countedIn(part, score, hearing, moments.from) : part
}

/** Making the tones takes the longest; then each file is mixed. */
const SOUNDING = 0.7

async function wav(piece: Known): Promise<Contents> {
  const performance = heard(piece)
  const mixes = mixesOf(performance, piece.wishes)
  const source = await renderedInMemory(performance, RATE, TOOLS.bank, share => piece.told(share * SOUNDING))
  const files: [string, Uint8Array][] = []
  for (const [at, { name, mix }] of mixes.entries()) {
    const rest = (share: number): void => piece.told(SOUNDING + (1 - SOUNDING) * ((at + share) / mixes.length))
    files.push([`${name}.wav`, await wavOf(mix, source, rest)])
  }
  return { files }
}

function mixesOf({ voices }: Performance, { files, balance }: Known["wishes"]): { name: string; mix: Mix }[] {
  if (files === "all") return [{ name: "", mix: { voices } }]
  return voices
    .filter(one => one.heard)
    .map(({ id, label, n }) => ({
      name: `-${voices.findIndex(one => one.id === id) + 1}-${label || n}`,
      mix: {
        voices: files === "each" ? onlyVoice(voices, id) : practising(voices, id),
        ...(balance && files === "each" ? { asLoudAsIn: voices } : {}),
      },
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
