/** What coloured runs cost by their make (Libellus cantus mensurabilis, c. 1340, 6; Practica musicae, 1496, IV.5). */
import { expect, test } from "vitest"
import { parseShorthand } from "../../page/index.js"
import { workVoice } from "../../reading/read-voice.js"
import { costOfRun } from "./inks.js"
import { RUN_MIXED, RUN_NOT_WHOLE } from "./weights.js"

function costIn(music: string, at: number): number {
  const read = parseShorthand(`voice cantus white practice=white\nclef:C1 ${music}`)
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  const worked = workVoice(read.value.voices[0]!, {})
  return costOfRun(
    worked.settled.flatMap(({ stretch }) => stretch.figures),
    at,
  )
}

test("three breves for two, three semibreves for two, and a pair in imperfect time are the usual runs", () => {
  expect(costIn("O B g4 black{B a g a} B g L g", 1)).toBe(0)
  expect(costIn("C. B g4 black{S a g a} B g L g", 2)).toBe(0)
  expect(costIn("C B g4 black{S a M g} S a B g L g", 1)).toBe(0)
})

test("a run of mixed values is rarer, one that breaks off within a unit rarer still", () => {
  expect(costIn("O B g4 black{B a S g B a} S g B g L g", 1)).toBe(RUN_NOT_WHOLE)
  expect(costIn("O B g4 black{B a S g} B g L g", 1)).toBe(RUN_MIXED)
  expect(costIn("O B g4 black{B a g} B g L g", 1)).toBe(RUN_NOT_WHOLE)
})
