/** What a voice shows of its scribe is believed so far only that long voices still meet where that is contradicted. */
import { expect, test } from "vitest"
import { readTogether } from "./index.js"
import { lawfulPiece } from "./testing/lawful-piece.js"

test("long voices meet, though some runs without dots are cut otherwise than the voice cuts its others", () => {
  const missed = [39, 40, 41, 45, 47, 49].filter(seed => {
    const { page } = lawfulPiece(seed, { practice: "ars-nova-early", voices: 4, notes: 1000, doubtful: 0.1 })
    return readTogether(page).meeting.length < 4
  })
  expect(missed).toEqual([])
})
