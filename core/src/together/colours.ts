/** What colour means in a voice, where the voices meet only if it is not the usual loss of a third (Ars nova, c. 1320, 19). */
import { equals, sum, ZERO, type Rational, type VoiceId } from "../base/index.js"
import { MISSED_MEETING } from "../counterpoint/index.js"
import { flatSigns, type Note, type Rest, type Voice } from "../page/index.js"
import type { WorkedVoice } from "../reading/read-voice.js"
import type { Reading } from "../reading/types.js"

/** Meanings that are tried, and what each costs beforehand: an estimate. */
export const MEANINGS: readonly (readonly [meaning: string, cost: number])[] = [
  ["perfect-modus", 0],
  ["modus-and-tempus", 1],
  ["keep", 2],
  ["perfect-tempus", 1],
  ["tempus-and-prolatio", 2],
  ["perfect-prolatio", 2],
]
/**
 * A coloured stretch with longs in it that does not last whole breves: an estimate. Coloured notes are counted among themselves
 * (Liber imperfectionum, 1470s, II.11).
 */
export const OPEN_COLOUR = 3
/**
 * Where the voices would have to bend their own rules by so much more to meet by another meaning (natural logarithm of odds), and
 * no stretch of the voice is open, it is not tried: each trial takes as long as a reading. An estimate.
 */
const BENT = 1
/** So many of them make longs last otherwise and breves as they do. */
const OF_LONGS = 3
export const MEANINGS_OF_LONGS: readonly string[] = MEANINGS.slice(0, OF_LONGS).map(([meaning]) => meaning)

type Colours = ReadonlyMap<VoiceId, string>

/** What is asked of a reading under some colours. */
export interface AskedOfColours {
  readonly colours: Colours
  readonly voice: VoiceId
  /** By what the voices are read so far. */
  readonly before: readonly WorkedVoice[]
  /** So many voices have to meet, this one among them. */
  readonly least: number
  /** By so much more the voices may bend their rules for that than they do so far. */
  readonly bent: number
}

/** Undefined where no note lasts otherwise than before, or where it is not worth a reading. */
type Reads<R> = (asked: AskedOfColours) => R | undefined

/** As much of a reading of all voices as is looked at here. */
interface Read {
  readonly readings: readonly Reading[]
  readonly cost: number
  readonly meeting: readonly VoiceId[]
  readonly worked: readonly WorkedVoice[]
}

/**
 * The best of `first` and what `read` makes of it where colour means something else in a voice: in one that does not meet the
 * others, whatever is coloured in it; in one that meets them, where longs are, since shorter voices may have given way to it.
 */
export function withOtherColours<R extends Read>(first: R, read: Reads<R>): R {
  let best = first
  let colours: Colours = new Map()
  for (const { voice, chosen } of first.worked) {
    const meets = best.meeting.includes(voice.id)
    const isOpen = chosen.practice.name === "ars-nova" && chosen.settings["colourMap"] === "lose-a-third"
    if (!isOpen || !isColoured(voice, meets)) continue
    const [chosenOne, ...rivals] = meaningsOf(voice, best, colours, !meets, read)
    const met = chosenOne!.read.meeting.length
    const readings = rivals
      .filter(one => one.read.meeting.length === met)
      .reduce(
        (all, one) => doubted(all, one.read.readings, Math.exp(chosenOne!.cost - one.cost)),
        chosenOne!.read.readings,
      )
    const isOther = chosenOne!.colours !== colours
    colours = chosenOne!.colours
    best = {
      ...chosenOne!.read,
      readings: readings.map(one => (isOther && one.voice === voice.id ? told(one, colours) : one)),
    }
  }
  return best
}

/** Those by which as many voices meet, this one among them, and that by which it has been read so far; best first. */
function meaningsOf<R extends Read>(voice: Voice, best: R, colours: Colours, all: boolean, read: Reads<R>) {
  const open = ({ readings }: Read): number =>
    OPEN_COLOUR *
    openStretches(
      voice,
      readings.find(one => one.voice === voice.id)!,
    )
  const weighed = (one: Read): number => one.cost + open(one) - MISSED_MEETING * one.meeting.length
  const usual = { colours, read: best, cost: weighed(best) }
  // whether it met the others before or not, it has to meet them then
  const meets = ({ meeting }: Read): boolean => meeting.includes(voice.id) && meeting.length >= best.meeting.length
  const others = MEANINGS.slice(0, all ? undefined : OF_LONGS).flatMap(([meaning, dearer]) => {
    const tried: Colours = new Map([...colours, [voice.id, meaning]])
    const other = read({
      colours: tried,
      voice: voice.id,
      before: best.worked,
      least: best.meeting.length,
      bent: BENT + open(best),
    })
    return other !== undefined && meets(other) ? [{ colours: tried, read: other, cost: weighed(other) + dearer }] : []
  })
  const better = others.filter(one => one.cost < usual.cost)
  const rest = others.filter(one => one.cost >= usual.cost)
  const byMeeting = better.toSorted((a, b) => b.read.meeting.length - a.read.meeting.length || a.cost - b.cost)
  return [...byMeeting, usual, ...rest]
}

const isColoured = (voice: Voice, onlyLongs: boolean): boolean =>
  stretchesOf(voice).some(stretch => (onlyLongs ? stretch.some(isLong) : stretch.length > 0))

export const hasColouredLongs = (voice: Voice): boolean => isColoured(voice, true)

/** Coloured stretches with longs that do not last whole breves. */
function openStretches(voice: Voice, { signs, mensurations }: Reading): number {
  const { tempus, prolatio } = mensurations[0]!
  const lasts = new Map<string, Rational>(signs.map(sign => [sign.id, sign.duration]))
  const stretches = stretchesOf(voice).filter(stretch => stretch.some(isLong))
  return stretches.filter(stretch => {
    const whole = sum(stretch.map(({ id }) => lasts.get(id) ?? ZERO))
    return whole.num % (whole.den * tempus! * (prolatio ?? 2)) !== 0
  }).length
}

/** Coloured notes without others between, and the rests between them. */
function stretchesOf(voice: Voice): (Note | Rest)[][] {
  const stretches: (Note | Rest)[][] = [[]]
  let rests: Rest[] = []
  for (const { sign } of flatSigns(voice)) {
    if (sign.kind === "rest") rests.push(sign)
    else if (sign.kind === "note") {
      const last = stretches.at(-1)!
      if (sign.coloration === "none") stretches.push([])
      else last.push(...(last.length > 0 ? rests : []), sign)
      rests = []
    }
  }
  return stretches
}

const isLong = ({ level }: Note | Rest): boolean => level === "longa" || level === "maxima"

/** What another meaning by which the voices meet too would change is in doubt; `odds` that it is that one. */
export function doubted(readings: readonly Reading[], others: readonly Reading[], odds: number): readonly Reading[] {
  const least = Math.min(1, (2 * odds) / (1 + odds))
  return readings.map((reading, v) => ({
    ...reading,
    signs: reading.signs.map((sign, i) => {
      const other = others[v]!.signs[i]!
      return equals(sign.duration, other.duration) || sign.doubt >= least ? sign : { ...sign, doubt: least }
    }),
  }))
}

function told(reading: Reading, colours: Colours): Reading {
  const meaning = colours.get(reading.voice)!
  const problem = {
    code: "colour-otherwise",
    what: `${reading.label} fits the other voices best if colour in it means ${meaning}; it was read so, though nothing on the page says it.`,
    where: { place: reading.label },
    mend: `If that is meant, read with the option colourMap=${meaning}; if not, look for what the voice lacks with resolutio fit.`,
  }
  return { ...reading, problems: [...reading.problems, problem] }
}
