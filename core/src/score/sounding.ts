/**
 * The voices that sound: a part that is sung in canon becomes several, one that is sung several times goes on. The page
 * keeps its one part; what is made here is a page and readings of their own, with ids of their own for all but the first
 * singing of each sign.
 */
import { signId, voiceId, type SignId, type VoiceId } from "../base/index.js"
import { everySign, type Page, type Voice } from "../page/index.js"
import type { CanonReading, Reading } from "../reading/index.js"
import { sungReading } from "./sung-reading.js"
import { sungSigns, transposersOf } from "./sung-signs.js"

/** How a sounding voice comes out of its part. */
export interface SungFrom {
  readonly part: VoiceId
  /** Which of the voices sung from the part, from 1, and how many there are. */
  readonly number: number
  readonly of: number
  /** "2 breves later, a fifth below"; undefined where the part is sung once, as it is written. */
  readonly words?: string
}

/** A page of sounding voices and their readings, in order. */
export interface Sounding {
  readonly page: Page
  readonly readings: readonly Reading[]
  readonly from: readonly SungFrom[]
  /** The sign of the written page that a sign of these stands for. */
  readonly signOf: (id: SignId) => SignId
}

/** All voices that sound. A page without canons stays as it is. */
export function soundingOf(page: Page, readings: readonly Reading[]): Sounding {
  if (readings.every(({ canon }) => canon === undefined))
    return { page, readings, from: readings.map(({ voice }) => asWritten(voice)), signOf: id => id }
  const namer = namerFor(page)
  const sung = readings.flatMap(reading =>
    sungFrom(
      page.voices.find(one => one.id === reading.voice),
      reading,
      namer,
    ),
  )
  return {
    page: { ...page, voices: sung.flatMap(({ voice }) => voice ?? []) },
    readings: sung.map(({ reading }) => reading),
    from: sung.map(({ from }) => from),
    signOf: id => namer.known.get(id) ?? id,
  }
}

const asWritten = (part: VoiceId): SungFrom => ({ part, number: 1, of: 1 })

/** Readings alone, without what else the page says: for comparing lengths. */
export function soundingReadings(readings: readonly Reading[]): Pick<Sounding, "readings" | "from" | "signOf"> {
  return soundingOf(NO_PAGE, readings)
}
const NO_PAGE: Page = { title: "", voices: [], shapes: [], surfaces: [], zones: [], alternatives: [] }

interface Sung {
  readonly voice: Voice | undefined
  readonly reading: Reading
  readonly from: SungFrom
}

function sungFrom(voice: Voice | undefined, reading: Reading, namer: Namer): Sung[] {
  const { canon } = reading
  if (!canon) return [{ voice, reading, from: asWritten(reading.voice) }]
  return canon.voices.map((own, at) => {
    const naming = own.statements.map((_, time) => namer.names(at, time))
    const head = headOf(reading, canon, at)
    const made = sungReading(reading, own, naming, voice && transposersOf(voice, own))
    return {
      voice: voice && { ...voice, ...head, signs: sungSigns(voice, own, made, naming, at) },
      reading: { ...made.reading, voice: head.id, n: head.n, label: head.label },
      from: { part: reading.voice, number: at + 1, of: canon.voices.length, words: own.words },
    }
  })
}

function headOf({ voice, n, label }: Reading, { voices }: CanonReading, at: number): Pick<Voice, "id" | "n" | "label"> {
  const named = voices[at]!.label
  if (at === 0) return { id: voice, n, label: named ?? label }
  return { id: voiceId(`${voice}.canon${at + 1}`), n: `${n}.${at + 1}`, label: named ?? `${label} ${at + 1}` }
}

/** Gives a sign the id under which it is sung. */
export type Naming = (id: SignId) => SignId

interface Namer {
  names(voice: number, time: number): Naming
  /** Signs of the page by the ids given to them. */
  readonly known: ReadonlyMap<SignId, SignId>
}

/** "n12" is "n12.canon2" in the second voice, "n12.time2" when a voice sings it again. */
function namerFor(page: Page): Namer {
  const taken = new Set<string>()
  for (const voice of page.voices) for (const sign of everySign(voice.signs)) taken.add(sign.id)
  const known = new Map<SignId, SignId>()
  return {
    known,
    names: (voice, time) => {
      const ending = `${voice > 0 ? `.canon${voice + 1}` : ""}${time > 0 ? `.time${time + 1}` : ""}`
      if (ending === "") return id => id
      return id => {
        let name = `${id}${ending}`
        while (taken.has(name)) name += "_"
        known.set(signId(name), id)
        return signId(name)
      }
    },
  }
}
