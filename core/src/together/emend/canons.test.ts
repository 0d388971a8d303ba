/** Slips beside a part that is sung by several voices, or several times. */
import { expect, test } from "vitest"
import { parseShorthand, type Page } from "../../page/index.js"
import { findMensurations } from "../mensuration/index.js"
import { propose } from "./propose.js"

function page(text: string): Page {
  const read = parseShorthand(text)
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  return read.value
}
const TENOR = 'voice tenor white practice=white\nclef:C4 C canon:"Tenor dicitur bis" B c3 g S f e B f S e d B c\n'
const CANTUS_SOUND =
  "voice cantus white practice=white\nclef:C1 C B g4 S e g B a c5 S g4 c5 b4 g S g d B c c S b4 a B b L c5\n"
const FUGA =
  'voice cantus white practice=white\nclef:C1 C canon:"Fuga duorum temporum in unisono" B c5 S d c B e c S d e B c L c\n'
const BASSUS_SOUND = "voice bassus white practice=white\nclef:F4 C B c3 S g c B c g S g c B a S g c S g g L c\n"

const ALONE = `voice cantus white practice=white
clef:C2 canon:"Fuga duorum temporum in subdiapente" O
B d4 a3 M b c4 S d M e f S g b . M c5 S b4 g M f g S a B g
B g4 S f e . M f S g B e M d e B f S e B c M d c S d f c L d
`

const BIS = `voice cantus black practice=ars-nova
clef:C2 C.
S a4 d M c d e f S d c M d S d M c S g M a b c5 d S b4 M a S g d e M f
S e M f S e b3 d4 M b3 B c4 S d c M b3 c4 d S e c M b3 c4 d c b3 a g S a
S b d4 M e S a M b a g f B c S d M e S d M e S f e f M g S f e b3 M c4 L d
voice tenor black practice=ars-nova
clef:C4 canon:"Tenor dicitur bis, secundo per semi" C.
L d3 B f e L g B a g L f B g e L d
`

test.each([
  ["a tenor sung twice", TENOR + CANTUS_SOUND],
  ["a canon", FUGA + BASSUS_SOUND],
  ["a canon alone", ALONE],
])("%s: a sound piece is left alone", (_, text) => {
  const proposal = propose(page(text), text === ALONE ? { most: 60 } : {})!
  expect(proposal.together).toBe(true)
  expect(proposal.emendations).toEqual([])
})

test.each([
  ["a voice beside the second singing of a tenor", TENOR + CANTUS_SOUND, "c S b4 a B b", "c S b4 M a B b"],
  ["a voice beside a canon", FUGA + BASSUS_SOUND, "S g c S g g L", "S g c M g S g L"],
  ["the part of a canon", FUGA + BASSUS_SOUND, "S d e B c", "S d M e B c"],
  ["a tenor sung twice itself", TENOR + CANTUS_SOUND, "S f e B f", "S f M e B f"],
])("%s: a slip there is found, the true repair among the first three", (_, text, sound, spoiled) => {
  expect(text).toContain(sound)
  const { together, emendations } = propose(page(text.replace(sound, spoiled)))!
  expect(together).toBe(false)
  expect(emendations.slice(0, 3)).toContainEqual(expect.objectContaining({ kind: "stem-dropped", meets: true }))
})

test("a note written twice in a canon alone is found", () => {
  const { emendations } = propose(page(ALONE.replace("M b c4 S d", "M b b c4 S d")), { steps: 1, most: 60 })!
  expect(emendations[0]).toMatchObject({ kind: "note-doubled", meets: true, step: 1 })
})

test.each([
  ["tenor 5", "L g B a g L f", "L g L a B g L f"],
  ["tenor 8", "L f B g e L d", "L f L g B e L d"],
])(
  "a slip at %s does not mislead what is found out of the mensuration by ear, and is found",
  (place, sound, spoiled) => {
    const tenor = BIS.indexOf("voice tenor")
    const whole = page(BIS.slice(0, tenor) + BIS.slice(tenor).replace(sound, spoiled))
    const modi = (of: Page): number[] => findMensurations(of).voices.map(one => one.divisions.modusMinor)
    expect(modi(whole)).toEqual(modi(page(BIS)))
    const { emendations } = propose(whole, { steps: 1 })!
    expect(emendations[0]).toMatchObject({ kind: "level-changed", place, meets: true })
  },
)

test("a change of a tenor that is sung again in smaller values moves its end by more than its own length", () => {
  const { together, emendations } = propose(page(BIS.replace("L d3 B f e L g", "L d3 B f L e L g")), { steps: 1 })!
  expect(together).toBe(false)
  expect(emendations[0]).toMatchObject({ kind: "level-changed", place: "tenor 3", meets: true })
})
