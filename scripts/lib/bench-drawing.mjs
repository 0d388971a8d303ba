// How fast pages and time views are drawn, and drawn again after one sign has changed. What reading costs is not counted.
import { bundled } from "./bundle.mjs"

const { alignVoices, drawPage, drawTime, layPage, layTime, readTogether, svgOf, toSvg } = await bundled(`
  export { drawPage, drawTime, layPage, layTime, svgOf, toSvg } from "./core/src/drawing/index.ts"
  export { readTogether } from "./core/src/together/index.ts"
  export { alignVoices } from "./core/src/score/index.ts"`)

export function measureDrawing(pieces, print) {
  console.log("\nThe page drawn: 1,000 signs in 2 voices, a syllable under every third, laid out and written as SVG")
  for (const practice of pieces.practices) measurePage(practice, pieces, print)
  console.log("\nThe time view: 500 signs in each of 3 voices, laid out and written as SVG")
  for (const practice of pieces.practices) measureTime(practice, pieces, print)
}

function measurePage(practice, { pieceOf, withSyllables, edited }, { line, median, grouped }) {
  const page = { ...pieceOf(practice, 2, 1000), title: "A page" }
  const sung = { ...page, voices: page.voices.map(withSyllables) }
  const signs = sung.voices.reduce((sum, voice) => sum + voice.signs.length, 0)
  const draw = () => toSvg(drawPage(sung))
  for (let call = 0; call < 12; call++) draw()
  const busy = `${processorTime(25, draw).toFixed(1)} ms of processor time, least of 25`
  line(practice, `${median(25, draw).toFixed(1)} ms`, `${grouped(signs)} signs, median of 25; ${busy}`)
  const laid = layPage(sung)
  const edits = editsOf(sung, edited)
  let turn = 0
  const again = () => {
    const now = layPage(edits[turn++ % edits.length], {}, laid)
    return svgOf(changedLines(laid.scene, now.scene))
  }
  for (let call = 0; call < 12; call++) again()
  const what = "again after one sign has changed, its lines written as SVG"
  line("", `${median(edits.length, again).toFixed(1)} ms`, `${what}; ${busyAgain(edits.length, again)}`)
}

/** Groups whose content is another than before, as who shows a drawing finds them. */
function changedLines(before, now) {
  const known = new Set(linesIn(before).map(one => one.content))
  return linesIn(now).filter(one => !known.has(one.content))
}
const linesIn = scene => scene.content.flatMap(one => (one.shape === "group" ? one.content : []))

function measureTime(practice, { pieceOf, edited, sizeOf }, { line, median, grouped }) {
  const page = pieceOf(practice, 3, 1500)
  const { readings } = readTogether(page)
  const input = { page, readings, score: alignVoices(page, readings) }
  for (const compact of [false, true]) {
    const draw = () => toSvg(drawTime(input, { compact }))
    for (let call = 0; call < 12; call++) draw()
    const what = `${grouped(sizeOf(page))} notes and rests${compact ? ", compact" : ""}`
    line(
      practice,
      `${median(25, draw).toFixed(1)} ms`,
      `${what}; ${processorTime(25, draw).toFixed(1)} ms of processor time, least of 25`,
    )
  }
  const laid = layTime(input)
  for (const { system } of laid.systems) void system.group
  const known = new Set(laid.systems.map(one => one.system))
  const inputs = editsOf(page, edited).map(changed => inputOf(changed))
  let turn = 0
  const again = () => {
    const { systems } = layTime(inputs[turn++ % inputs.length], {}, laid)
    const [first] = systems.filter(one => !known.has(one.system))
    return first && svgOf([first.group])
  }
  for (let call = 0; call < 12; call++) again()
  const what = "again after one sign has changed, its system written as SVG"
  line("", `${median(inputs.length, again).toFixed(1)} ms`, `${what}; ${busyAgain(inputs.length, again)}`)
}

/** What the processor itself was busy for, in ms: other programs that run hardly change the least of several. */
const processorTime = (times, draw) => Math.min(...busyTimes(times, draw))

/** Changes differ in how much has to be drawn again: the middle of them all says more than the least. */
function busyAgain(changes, again) {
  const taken = busyTimes(changes, again).sort((a, b) => a - b)
  return `${taken[taken.length >> 1].toFixed(1)} ms of processor time, median of ${changes}`
}

function busyTimes(times, draw) {
  return Array.from({ length: times }, () => {
    const before = process.cpuUsage()
    draw()
    const { user, system } = process.cpuUsage(before)
    return (user + system) / 1000
  })
}

function inputOf(page) {
  const { readings } = readTogether(page)
  return { page, readings, score: alignVoices(page, readings) }
}

/** One sign changed, at places all along the first voice. */
const editsOf = (page, edited) =>
  Array.from({ length: 40 }, (_, at) => ({
    ...page,
    voices: page.voices.map((voice, v) => (v === 0 ? edited(voice, (at + 1) / 42) : voice)),
  }))
