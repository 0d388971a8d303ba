/** What colour means in a tenor is found from the other voices (Ars nova, c. 1320, 19: red may turn the modus, or the tempus with it, or change nothing). */
import { expect, test } from "vitest"
import { ratio, toText, type Rational } from "../base/index.js"
import { parseShorthand } from "../page/shorthand/index.js"
import { readPage, type Reading } from "../reading/index.js"
import { workVoice } from "../reading/read-voice.js"
import { withOtherColours } from "./colours.js"
import { readTogether } from "./read-together.js"

/** A tenor under so many breves of the other voices, and what it is read as, without its final. */
function tenorRead(mensuration: string, tenor: string, breves: number) {
  const upper = (name: string, pitch: string): string =>
    `voice ${name} black practice=ars-nova\nmens:modusmaior=2:${mensuration} ${"B " + pitch + " "}`.trimEnd() +
    ` ${Array.from({ length: breves - 1 }, () => pitch).join(" ")} L ${pitch}`
  const text = [upper("triplum", "g4"), upper("motetus", "c4")]
    .map(voice => voice.replace("modus=3", "modus=2"))
    .concat(`voice tenor black practice=ars-nova\nmens:modusmaior=2:${mensuration} ${tenor} L c4`)
    .join("\n\n")
  const page = parseShorthand(text)
  if (!page.ok) throw new Error(page.problems.map(one => one.what).join(" "))
  const { readings } = readTogether(page.value)
  const signs = readings[2]!.signs.filter(sign => sign.number > 0).slice(0, -1)
  return {
    read: signs.map(sign => toText(sign.duration)).join(" "),
    codes: readings.flatMap(one => one.problems).map(one => one.code),
  }
}

test.each([
  [
    "a third less, where that fits",
    "modus=3:tempus=2:prolatio=3",
    "L c4 red{L c4 L c4 L c4} L c4",
    12,
    "18 12 12 12 18",
    false,
  ],
  [
    "the modus imperfect, breves of perfect tempus as they are",
    "modus=3:tempus=3:prolatio=2",
    "L c4 L c4 red{L c4 B c4 B c4 L c4} L c4",
    15,
    "18 18 12 6 6 12 18",
    true,
  ],
  [
    "where no minims are drawn, major prolation gives a breve no third to lose",
    "modus=3:tempus=2:prolatio=3",
    "L c4 L c4 red{L c4 B c4 B c4 L c4} L c4",
    15,
    "18 18 12 6 6 12 18",
    false,
  ],
  [
    "the modus perfect, where black is imperfect",
    "modus=2:tempus=2:prolatio=2",
    "L c4 L c4 red{L c4 L c4} L c4",
    12,
    "8 8 12 12 8",
    true,
  ],
  [
    "the modus perfect, in many short stretches between which no maxima is counted",
    "modus=2:tempus=2:prolatio=2",
    "red{L c4 B c4 L c4 B c4} L c4 red{L c4 B c4 L c4 B c4} L c4",
    16,
    "8 4 8 4 8 8 4 8 4 8",
    true,
  ],
  [
    "modus and tempus turned round: longs as long, breves half as long again",
    "modus=3:tempus=2:prolatio=2",
    "L c4 L c4 red{B c4 B c4 L c4} L c4",
    15,
    "12 12 6 6 12 12",
    true,
  ],
  [
    "nothing that lasts otherwise",
    "modus=3:tempus=2:prolatio=3",
    "L c4 L c4 red{L c4 L c4 B c4} L c4",
    15,
    "18 18 18 12 6 18",
    true,
  ],
] as const)("%s", (_, mensuration, tenor, breves, read, isTold) => {
  const found = tenorRead(mensuration, tenor, breves)
  expect(found.read).toBe(read)
  expect(found.codes.includes("colour-otherwise")).toBe(isTold)
})

test.each([
  ["the usual one, where another fits nearly as well", 10.5, [8, 8], 0.755],
  ["another, where the usual one fits nearly as well", 9.5, [12, 12], 0.755],
  ["the usual one, where another fits much worse", 20, [8, 8], 0],
])("colour means %s, and what both do not share is in doubt for it", (_, cost, lasting, doubt) => {
  const page = parseShorthand(
    "voice tenor black practice=ars-nova\nmens:modusmaior=2:modus=2:tempus=2:prolatio=2 red{L c4 L d4} L c4",
  )
  if (!page.ok) throw new Error(page.problems.map(one => one.what).join(" "))
  const worked = [workVoice(page.value.voices[0]!, {})]
  const usual = readPage(page.value).map(one => lastingOf(one, ratio(8)))
  const first = { readings: usual, cost: 10, meeting: [page.value.voices[0]!.id], worked }
  const other = { ...first, readings: usual.map(one => lastingOf(one, ratio(12))), cost }
  const { readings } = withOtherColours(first, ({ colours }) =>
    [...colours.values()].includes("perfect-modus") ? other : undefined,
  )
  const notes = readings[0]!.signs.filter(sign => sign.kind === "note").slice(0, 2)
  expect(notes.map(({ duration }) => duration.num / duration.den)).toEqual(lasting)
  for (const note of notes) expect(note.doubt).toBeCloseTo(doubt, 2)
})

const lastingOf = (reading: Reading, duration: Rational): Reading => ({
  ...reading,
  signs: reading.signs.map(sign => (sign.held === true ? sign : { ...sign, duration, doubt: 0 })),
})
