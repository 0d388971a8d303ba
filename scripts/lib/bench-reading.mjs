// How fast voices are read from the page, and read again after an edit.
import { bundled } from "./bundle.mjs"

const { readVoice, rereadVoice } = await bundled(`
  export { readVoice, rereadVoice } from "./core/src/reading/index.ts"`)

/** Notes in the longest voice that is read. */
const LONGEST = 200_000
/** So many that each length meets a quiet moment of the machine. */
const ROUNDS = 9

export function measureReading({ practices, voiceOf, edited }, print) {
  for (const practice of practices) measureLengths(practice, voiceOf, print)
  console.log("\nReading again after one edit in a voice of 2,000 notes")
  for (const practice of practices) measureEdits(practice, { voiceOf, edited }, print)
}

/** The same notes in many short voices, in fewer long ones, and in one: what a note costs must not depend on that. */
function measureLengths(practice, voiceOf, { line, grouped, times }) {
  const whole = voiceOf(practice, LONGEST)
  const cut = [100, 10, 1].map(count => ({ notes: LONGEST / count, voices: partsOf(whole, count) }))
  const readAll = ({ voices }) => voices.forEach(voice => readVoice(voice))
  // the first calls are slower: what runs often is compiled only then, and twice
  cut.forEach(readAll)
  const rounds = Array.from({ length: ROUNDS }, () => cut.map(one => times(1, () => readAll(one))[0]))
  console.log(`\nReading from the page, ${grouped(LONGEST)} notes, ${practice}, median of ${ROUNDS}`)
  let before
  cut.forEach(({ notes }, at) => {
    const all = rounds.map(one => one[at]).sort((a, b) => a - b)
    const time = all[all.length >> 1]
    // other programs make a round slower, never quicker: what grows is compared by the quickest
    const growth = before
      ? `   ${((10 * all[0]) / before).toFixed(1)} × the time for 10 × the notes in a voice, by the quickest`
      : ""
    const rate = grouped(Math.round((LONGEST / time) * 1000))
    line(`voices of ${grouped(notes)}`, `${((time * notes) / LONGEST).toFixed(1)} ms`, `${rate} notes/s${growth}`)
    before = all[0]
  })
}

function measureEdits(practice, { voiceOf, edited }, { line, median }) {
  const voice = voiceOf(practice, 2_000)
  const first = readVoice(voice)
  const edits = Array.from({ length: 60 }, (_, at) => edited(voice, (at + 1) / 62))
  for (let round = 0; round < 3; round++) for (const changed of edits) rereadVoice(first, changed)
  let turn = 0
  const time = median(edits.length, () => rereadVoice(first, edits[turn++]))
  line(practice, `${time.toFixed(2)} ms`, "median of 60 edits along the voice")
}

/** The voice in so many parts, each with the signs at its head. */
function partsOf(voice, count) {
  const first = voice.signs.findIndex(({ kind }) => kind === "note" || kind === "rest" || kind === "ligature")
  const [head, body] = [voice.signs.slice(0, first), voice.signs.slice(first)]
  const each = Math.ceil(body.length / count)
  const part = at => ({ ...voice, signs: [...head, ...body.slice(at * each, (at + 1) * each)] })
  return Array.from({ length: count }, (_, at) => part(at))
}
