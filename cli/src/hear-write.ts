/** Sound files of a performance: rendered once, mixed for each file; all of them are whole, or none is there. */
import { closeSync, fsyncSync, openSync, rmSync, writeSync } from "node:fs"
import { basename, extname } from "node:path"
import {
  mixDown,
  pcm16,
  wavHeader,
  type Mix,
  type MixSource,
  type Performance,
  type Problem,
  type Result,
} from "@resolutio/core"
import { RATE, renderingOf, type Rest } from "@resolutio/press"
import { besideIt, isRefusal, notWritten, stage, type Staged } from "./files.js"
import { encode, FfmpegMissing, missingProblem } from "./hear-encode.js"
import { resting, type Watch } from "./patience.js"
import { renderStems } from "./hear-stems.js"
import { endingOf } from "./output.js"
import { bank } from "./tools.js"

export interface SoundFile extends Mix {
  readonly name: string
}

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
  const raw = besideIt(`${files[0]!.name}.voices`)
  const rendering = await renderingOf(performance, RATE, bank)
  const stems = await renderStems(
    raw,
    rendering,
    RATE,
    resting(part => watch.say("Sounding", part)),
  )
  try {
    for (const [at, file] of files.entries()) {
      const rest = resting(part => watch.say("Writing", (at + part) / files.length))
      yield await stageOne(file, force, watch.signal, name => writeMix(name, file, stems, rest))
    }
  } finally {
    stems.remove()
  }
}

async function writeMix(file: string, mix: Mix, source: MixSource, rest: Rest): Promise<void> {
  const handle = openSync(file, "wx")
  const write = (bytes: Uint8Array): void => {
    for (let done = 0; done < bytes.length;) done += writeSync(handle, bytes, done)
  }
  try {
    write(wavHeader({ frames: source.frames, rate: source.rate, channels: 2 }))
    await mixDown(mix, source, ({ left, right }) => write(pcm16([left, right])), rest)
    fsyncSync(handle)
  } finally {
    closeSync(handle)
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
