// How fast voices are read together, at first and again, and how that grows with their length and number.
import { growthOf } from "./bench-growth.mjs"
import { bundled } from "./bundle.mjs"
import { busyFor } from "./busy.mjs"

const { applyChange, propose, readingTogether, readPage, readTogether } = await bundled(`
  export { readingTogether, readTogether } from "./core/src/together/index.ts"
  export { propose } from "./core/src/together/emend/index.ts"
  export { readPage } from "./core/src/reading/index.ts"
  export { applyChange } from "./core/src/page/index.ts"`)

export function measureVoices(pieces, print) {
  console.log("\nVoices read together (pieces of which a tenth of the phrases allow two readings)")
  for (const practice of pieces.practices) measureTogether(practice, pieces, print)
  console.log("\nVoices read together again after a note is taken away, and after it is put back")
  for (const practice of pieces.practices) {
    measureReread(practice, { voices: 4, signs: 500, edits: 20 }, pieces, print)
    measureReread(practice, { voices: 8, signs: 1500, edits: 4 }, pieces, print)
  }
  console.log("\nWhat would mend a page with a note too few")
  for (const practice of pieces.practices) measureFit(practice, pieces, print)
}

/** A piece in four voices of 800 notes, after a decision, in more voices and at greater lengths. */
function measureTogether(practice, { pieceOf, sizeOf }, { line, median, grouped }) {
  const page = pieceOf(practice, 4, 800)
  for (let call = 0; call < 8; call++) readTogether(page)
  line(practice, `${median(9, () => readTogether(page)).toFixed(0)} ms`, `${sizeOf(page)} notes in 4 voices`)
  const first = readTogether(page)
  const notes = first.readings.flatMap(one => one.signs.filter(sign => sign.kind === "note" && !sign.held))
  let turn = 0
  const again = median(15, () => {
    const { id, duration } = notes[(++turn * 97) % notes.length]
    readTogether(page, { decisions: new Map([[id, [duration.num, duration.den]]]) }, first)
  })
  line("", `${again.toFixed(0)} ms`, "again after a decision, median of 15 along the piece")
  // pieces differ in how much they leave open: three of each size, added up
  const three = (voices, notes) => [11, 12, 13].map(seed => pieceOf(practice, voices, notes, seed))
  const growth = growthOf({ readPage, readTogether }, { line, grouped, sizeOf })
  growth([2, 4, 8].map(voices => ({ name: `${voices} voices`, pages: three(voices, 200 * voices) })))
  growth([2000, 20_000].map(notes => ({ name: "4 voices", pages: three(4, notes) })))
}

/** The search for slips in a piece with a note too few, against reading it: what it takes is told as so many readings. */
function measureFit(practice, { lawful }, { line, grouped }) {
  const page = lawful(3, { practice, voices: 4, notes: 220 })
  const notes = page.voices[0].signs.filter(sign => sign.kind === "note")
  const { page: spoiled } = applyChange(page, { kind: "delete-sign", sign: notes[notes.length >> 1].id }).value
  for (let call = 0; call < 4; call++) readTogether(spoiled)
  const reading = Math.min(...Array.from({ length: 5 }, () => busyFor(() => readTogether({ ...spoiled }))))
  const spent = busyFor(() => propose(spoiled))
  const told = `processor time, 4 × 220, as long as ${grouped(Math.round(spent / reading))} readings together`
  line(practice, `${spent.toFixed(0)} ms`, told)
}

/** What the window asks for at a key press; a voice that no longer fits the others takes longest. */
function measureReread(practice, { voices, signs, edits }, { lawful }, { line }) {
  const page = lawful(3, { practice, voices, notes: signs, doubtful: 0.1 })
  const notes = page.voices.flatMap(voice => voice.signs.filter(sign => sign.kind === "note"))
  const ids = Array.from({ length: edits }, (_, i) => notes[Math.floor(((i + 0.5) * notes.length) / edits)].id)
  const spent = rereadTimes(page, ids)
  const tell = (what, times, how) => {
    times.sort((a, b) => a - b)
    const told = `${how}, median of ${times.length}; at most ${times.at(-1).toFixed(0)} ms`
    line(what, `${times[times.length >> 1].toFixed(0)} ms`, told)
  }
  const first = spent.map(one => one.first)
  tell(practice, first, `${voices} × ${signs}, processor time until a reading is told (a long piece at a glance)`)
  const all = spent.map(one => one.all)
  tell("", all, "until all is searched")
}

/** Milliseconds for each sign taken away, and for each put back: until something is told, and until all is. */
function rereadTimes(page, ids) {
  let read = readTogether(page)
  for (let call = 0; call < 3; call++) read = readTogether(page)
  return ids.flatMap(sign => {
    const changed = applyChange(page, { kind: "delete-sign", sign }).value.page
    return [changed, page].map(one => {
      const steps = readingTogether(one, {}, read)
      let step
      const first = busyFor(() => (step = steps.next()))
      const rest = busyFor(() => {
        while (!step.done) step = steps.next()
      })
      read = step.value
      return { first, all: first + rest }
    })
  })
}
