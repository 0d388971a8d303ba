/** Rests with which all voices fall silent together are not what is changed first. */
import { expect, test } from "vitest"
import { parseShorthand } from "../../page/shorthand/index.js"
import { propose } from "./index.js"

const page = (cantus: string, contratenorRests = "rB") => {
  const read = parseShorthand(`voice cantus black practice=ars-nova
clef:C1 O
S a4 M g a S b B c5 S b4 a g M a b S a g B e rB
${cantus}
voice contratenor black practice=ars-nova
clef:C3 O
B e4 S e d B e S d c B c ${contratenorRests}
B c4 S d e B c L d
voice tenor black practice=ars-nova
clef:C4 O
B a3 g a g a3 rB
B f3 g e L d
`)
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  return read.value
}
const AFTER = "S a4 M b c5 S b4 B a S g S a M g f S e L d"

test("a breve for a semibreve behind a general rest: the note is changed, not the rest", () => {
  expect(propose(page(AFTER))!.together).toBe(true)
  const { emendations } = propose(page(AFTER.replace("B a S g S a", "B a B g S a")))!
  const places = emendations.map(one => `${one.place}: ${one.kind}`)
  expect(places.slice(0, 3)).toContain("cantus 20: level-changed")
  expect(places.findIndex(one => one.endsWith("rest-changed"))).not.toBe(0)
  expect(places.slice(0, 3).filter(one => one.endsWith("rest-changed"))).toEqual([])
})

test("where the others do not rest there, a rest is changed as before", () => {
  const { emendations } = propose(page(AFTER.replace("B a S g S a", "B a B g S a"), "B b3"))!
  expect(emendations.slice(0, 3).map(one => one.kind)).toContain("rest-changed")
})
