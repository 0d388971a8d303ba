/** Places before the finals where all voices have to stand together. */
import { generalRests } from "./general-rests.js"
import type { VoiceGraph } from "./voice-graph.js"
import type { Meeting } from "./turns.js"

/**
 * Ends of sections (finis punctorum; the note before it is held, so the last note's beginning counts) and signa
 * congruentiae (the note at which the sign stands), where every voice has equally many. Common practice of both signs. And general rests.
 */
export function meetingsOf(graphs: readonly VoiceGraph[]): Meeting[] {
  return [...matched(graphs.map(sectionEnds)), ...matched(graphs.map(signa)), ...generalRests(graphs)]
}

function matched(places: readonly (readonly number[])[]): Meeting[] {
  const [first] = places
  if (first === undefined || places.length < 2 || places.some(own => own.length !== first.length)) return []
  return first.map((_, i) => places.map(own => own[i]!))
}

/** By section but the last: index of its last note. */
function sectionEnds({ worked, figures }: VoiceGraph): number[] {
  if (worked.reading.canon) return []
  const { entries, stretches } = worked.cut
  const first = firstFigures(stretches)
  const ends: number[] = []
  let note = -1
  for (const entry of entries) {
    if (entry.figure >= 0 && entry.sign.kind === "note") note = first[entry.stretch]! + entry.figure
    else if (entry.takenFor === "finis-punctorum" && note >= 0) ends.push(note)
  }
  return ends.filter(end => end < figures - 1)
}

/** Index of the figure that follows each signum congruentiae; in a canon that is where another voice enters. */
function signa({ worked, figures }: VoiceGraph): number[] {
  if (worked.reading.canon) return []
  const { flat, cut } = worked
  const lasting = cut.stretches.flatMap(stretch => stretch.figures.map(figure => figure.flat))
  const found: number[] = []
  flat.forEach(({ sign }, at) => {
    if (sign.kind !== "mark" || sign.of !== "signum-congruentiae") return
    const next = lasting.findIndex(flat => flat >= at)
    if (next >= 0 && next < figures - 1) found.push(next)
  })
  return found
}

function firstFigures(stretches: readonly { readonly figures: readonly unknown[] }[]): number[] {
  let count = 0
  return stretches.map(stretch => {
    const first = count
    count += stretch.figures.length
    return first
  })
}
