// A reading held against an independent modern transcription in MusicXML, voice by voice and note by note.
import { DOMParser } from "@xmldom/xmldom"

/**
 * `page` and `readings` as the core gives them; `modern` is the text of a MusicXML file (score-partwise, a part for each
 * voice in the same order). Left out are the final of each voice, which editors shorten, blackened passages, which some
 * write without their proportion, and the ids in `except`. Gives what the modern value of one unit is, and for each
 * voice how many notes and rests were compared and which differ.
 */
export function compare(page, readings, modern, except = []) {
  const parts = partsOf(modern)
  const pairs = readings.map((reading, at) => align(written(reading), parts[at] ?? []))
  const quarters = commonest(pairs.flat().filter(({ ours, theirs }) => ours && theirs))
  return {
    parts: parts.length,
    quarters,
    voices: readings.map((reading, at) => {
      const left = leftOut(page.voices[at], reading, except)
      return { label: reading.label, duration: textOf(reading.duration), ...tally(pairs[at], left, quarters) }
    }),
  }
}

function tally(pairs, left, quarters) {
  const counts = { notes: 0, agreeing: 0, rests: 0, leftOut: 0, differing: [] }
  for (const { ours, theirs } of pairs) {
    if (ours && left.has(ours.id)) counts.leftOut++
    else {
      const agrees = ours && theirs && ratioOf(ours, theirs) === quarters
      const rest = (ours ?? theirs).pitch === null
      if (rest) counts.rests++
      else counts.notes++
      if (agrees && !rest) counts.agreeing++
      if (!agrees) counts.differing.push(told(ours, theirs))
    }
  }
  return counts
}

const told = (ours, theirs) =>
  `${ours ? `${ours.id} (${textOf(ours.duration)})` : "nothing here"} against ${theirs ? `${textOf(theirs.duration)} quarters` : "nothing there"}`

/** Ids that are not compared: the last note, blackened passages, and those that are named. */
function leftOut(voice, reading, except) {
  const final = reading.signs.findLast(sign => sign.kind === "note")
  return new Set([...blackened(voice.signs.flatMap(notesIn)), ...except, ...(final ? [final.id] : [])])
}

const notesIn = sign => (sign.kind === "ligature" ? sign.members.flatMap(notesIn) : sign.kind === "note" ? [sign] : [])
const BLACK_BY_SHAPE = new Set(["semiminima", "fusa", "semifusa"])
const isColoured = note => note.coloration !== undefined && note.coloration !== "none"

/** A passage goes from its first coloured note to its last over notes that are black by their shape. */
function blackened(notes) {
  const ids = []
  let sinceColoured
  for (const note of notes) {
    if (isColoured(note)) {
      ids.push(...(sinceColoured ?? []), note.id)
      sinceColoured = []
    } else if (BLACK_BY_SHAPE.has(note.level)) sinceColoured?.push(note.id)
    else sinceColoured = undefined
  }
  return ids
}

/** Notes and rests of a reading; rests in a row are one, as they may be cut differently. */
function written(reading) {
  const row = []
  for (const { kind, id, pitch, duration } of reading.signs) {
    if (kind === "note") row.push({ id, pitch: stepOf(pitch), duration })
    else if (kind === "rest" && duration.num > 0) addRest(row, { id, pitch: null, duration })
  }
  return row
}

function addRest(row, rest) {
  const last = row.at(-1)
  if (last?.pitch === null) last.duration = sum(last.duration, rest.duration)
  else row.push(rest)
}

/** Only the step: accidentals are an editor's affair, and octaves are sometimes wrong in a file. */
const stepOf = pitch => (pitch === null ? "?" : pitch[0])

/** For each part its notes and rests, tied notes joined, durations in quarters. */
function partsOf(modern) {
  const document = new DOMParser().parseFromString(modern, "text/xml")
  return [...document.getElementsByTagName("part")].map(onePart)
}

function onePart(part) {
  const row = []
  let divisions = 1
  for (const measure of part.getElementsByTagName("measure")) {
    divisions = Number(textIn(measure, "divisions") ?? divisions)
    for (const note of measure.getElementsByTagName("note")) addNote(row, note, divisions)
  }
  return row
}

function addNote(row, note, divisions) {
  const length = textIn(note, "duration")
  if (length === undefined) return
  const duration = lowest(Number(length), divisions)
  const last = row.at(-1)
  if (note.getElementsByTagName("rest").length > 0) addRest(row, { pitch: null, duration })
  else if (last && isTiedBack(note)) last.duration = sum(last.duration, duration)
  else row.push({ pitch: textIn(note, "step").toLowerCase(), duration })
}

const isTiedBack = note => [...note.getElementsByTagName("tie")].some(tie => tie.getAttribute("type") === "stop")
const textIn = (element, name) => element.getElementsByTagName(name)[0]?.textContent?.trim()

/**
 * Which of ours stands for which of theirs: the way with the fewest left over on either side, and of those the one with
 * the most equal durations. Only the same pitch (or two rests) can stand for each other.
 */
function align(ours, theirs) {
  const quarters = commonest(ours.map((one, at) => ({ ours: one, theirs: theirs[at] })).filter(pair => pair.theirs))
  const cost = ours.map(() => [])
  cost.push([])
  for (let i = ours.length; i >= 0; i--)
    for (let k = theirs.length; k >= 0; k--) cost[i][k] = cheapest(ours, theirs, i, k, cost, quarters).cost
  const pairs = []
  for (let i = 0, k = 0; i < ours.length || k < theirs.length;) {
    const step = cheapest(ours, theirs, i, k, cost, quarters)
    pairs.push({ ours: step.i > i ? ours[i] : undefined, theirs: step.k > k ? theirs[k] : undefined })
    ;({ i, k } = step)
  }
  return pairs
}

function cheapest(ours, theirs, i, k, cost, quarters) {
  if (i === ours.length && k === theirs.length) return { cost: 0, i, k }
  const ways = []
  if (i < ours.length && k < theirs.length && ours[i].pitch === theirs[k].pitch) {
    const differs = ratioOf(ours[i], theirs[k]) === quarters ? 0 : 1
    ways.push({ cost: differs + cost[i + 1][k + 1], i: i + 1, k: k + 1 })
  }
  if (i < ours.length) ways.push({ cost: 2 + cost[i + 1][k], i: i + 1, k })
  if (k < theirs.length) ways.push({ cost: 2 + cost[i][k + 1], i, k: k + 1 })
  return ways.reduce((best, way) => (way.cost < best.cost ? way : best))
}

/** Quarters for one unit, as text: what most pairs have. */
function commonest(pairs) {
  const counts = new Map()
  for (const { ours, theirs } of pairs) {
    const ratio = ratioOf(ours, theirs)
    counts.set(ratio, (counts.get(ratio) ?? 0) + 1)
  }
  return [...counts].sort((a, b) => b[1] - a[1])[0]?.[0] ?? "1"
}

const ratioOf = (ours, theirs) =>
  textOf(lowest(theirs.duration.num * ours.duration.den, theirs.duration.den * ours.duration.num))
const sum = (a, b) => lowest(a.num * b.den + b.num * a.den, a.den * b.den)
const textOf = ({ num, den }) => (den === 1 ? String(num) : `${num}/${den}`)

function lowest(num, den) {
  let [a, b] = [Math.abs(num), den]
  while (b !== 0) [a, b] = [b, a % b]
  return { num: num / a, den: den / a }
}
