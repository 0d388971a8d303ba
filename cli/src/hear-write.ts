/** Sound files of a performance: rendered once, mixed for each file; all of them are whole, or none is there. */
import { rmSync } from "node:fs"
import { basename, extname } from "node:path"
import type { Performance, Problem, Result } from "@resolutio/core"
import { besideIt, isRefusal, notWritten, stage, type Staged } from "./files.js"
import { encode, FfmpegMissing, missingProblem } from "./hear-encode.js"
import { writeMix, type Mix } from "./hear-mix.js"
import type { Watch } from "./hear-patience.js"
import { sourcesOf } from "./hear-sources.js"
import { renderStems } from "./hear-stems.js"
import { endingOf } from "./output.js"

export interface SoundFile extends Mix {
  readonly name: string
}

/** In hertz: what everything can play. */
const RATE = 44_100
/** Seconds in which the last tones may ring on. */
const RING = 0.5

/** Gives the names of what was written. Throws `Stopped` or an AbortError when the work is ended. */
export async function writeSounds(
  performance: Performance,
  files: readonly SoundFile[],
  force: boolean,
  watch: Watch,
): Promise<Result<readonly string[]>> {
  const staged: (Staged & { readonly name: string })[] = []
  try {
    const problems: Problem[] = []
    for await (const one of stagedOf(performance, files, force, watch)) {
      if (!one.ok) return one
      staged.push(one.value)
      problems.push(...one.problems)
    }
    for (const [at, one] of staged.entries()) {
      const problem = one.take()
      if (!problem) continue
      for (const { name } of staged.slice(0, at)) rmSync(name, { force: true })
      return { ok: false, problems: [problem] }
    }
    return { ok: true, value: staged.map(one => one.name), problems }
  } catch (error) {
    if (!isRefusal(error)) throw error
    return { ok: false, problems: [notWritten(files[0]!.name, error)] }
  } finally {
    for (const one of staged) one.drop()
  }
}

type NamedStage = Result<Staged & { readonly name: string }>

async function* stagedOf(
  performance: Performance,
  files: readonly SoundFile[],
  force: boolean,
  watch: Watch,
): AsyncGenerator<NamedStage> {
  const counted = performance.sounds.some(one => one.voice === null)
  const voices = [...(counted ? [null] : []), ...performance.voices.map(one => one.id)]
  const frames = Math.ceil((performance.duration + RING) * RATE)
  const raw = besideIt(`${files[0]!.name}.voices`)
  const sources = await sourcesOf(performance, RATE)
  const stems = await renderStems(raw, voices, sources, frames, { advance: part => watch.say("Sounding", part) })
  try {
    for (const [at, file] of files.entries()) {
      const advance = (part: number): void => watch.say("Writing", (at + part) / files.length)
      yield await stageOne(file, force, watch.signal, name => writeMix(name, file, stems, RATE, { advance }))
    }
  } finally {
    stems.remove()
  }
}

async function stageOne(
  { name }: SoundFile,
  force: boolean,
  signal: AbortSignal,
  mix: (name: string) => Promise<void>,
): Promise<NamedStage> {
  const ending = endingOf(name)
  if (ending === ".wav") return named(name, await stage(name, force, mix))
  const wav = besideIt(`${name}.wav`)
  try {
    await mix(wav)
    return named(name, await stage(name, force, target => encode(wav, target, ending, signal)))
  } catch (error) {
    if (!(error instanceof FfmpegMissing)) throw error
    // There is no encoder: the sound is kept as WAV, and it is said why.
    const instead = name.slice(0, -extname(name).length) + ".wav"
    return named(instead, await stage(instead, force, mix), [missingProblem(basename(name), basename(instead))])
  } finally {
    rmSync(wav, { force: true })
  }
}

function named(name: string, staged: Result<Staged>, problems: readonly Problem[] = []): NamedStage {
  return staged.ok ? { ok: true, value: { ...staged.value, name }, problems } : staged
}
