/** Ids in a MusicXML file: those of the page, made fit for XML, each given once. */
import type { Score } from "../../score/index.js"
import { partId, plicaId, scoreId } from "../mei/modern/index.js"

export interface FileIds {
  /** Of part `part` of the note or rest `id` of a voice, voices counted from 0. */
  sign(voice: number, id: string, part: number): string
  plica(voice: number, id: string): string
  /** A name that nothing has yet: this one, or the same with a number. */
  free(wanted: string): string
}

/**
 * As `scoreId`, `partId` and `plicaId` have them, unless two signs of a page came out alike ("1.2" and "s1.2"): then the one
 * that had to be changed gets a number.
 */
export function fileIds(score: Score): FileIds {
  const used = new Set<string>()
  const own = new Map<string, string>()
  const free = (wanted: string): string => {
    let name = wanted
    for (let n = 2; used.has(name); n++) name = `${wanted}.${n}`
    used.add(name)
    return name
  }
  const signs = score.voices.flatMap((voice, i) =>
    voice.events.flatMap(({ id }) => (id === null ? [] : [{ key: `${i} ${id}`, id, name: scoreId(id) }])),
  )
  for (const { key, id, name } of signs) if (id === name && !used.has(name)) own.set(key, free(name))
  for (const { key, name } of signs) if (!own.has(key)) own.set(key, free(name))
  const ownOf = (voice: number, id: string) => own.get(`${voice} ${id}`) ?? free(scoreId(id))
  return {
    free,
    sign: (voice, id, part) => (part === 0 ? ownOf(voice, id) : free(partId(ownOf(voice, id), part))),
    plica: (voice, id) => free(plicaId(ownOf(voice, id))),
  }
}
