/** WAV to other forms by ffmpeg, a program of the system; it may be missing. */
import { spawn } from "node:child_process"
import type { Problem } from "@resolutio/core"
import { Stopped } from "./patience.js"

/** What ffmpeg is told for each ending. */
const CODECS: Readonly<Record<string, readonly string[]>> = {
  ".ogg": ["-codec:a", "libvorbis", "-q:a", "6"],
  ".mp3": ["-codec:a", "libmp3lame", "-q:a", "2"],
}
export const ENCODED = Object.keys(CODECS)

/** Rejects with a `Stopped` from `signal`, with `FfmpegMissing`, or with an Error that has what ffmpeg said. */
export async function encode(wav: string, target: string, ending: string, signal: AbortSignal): Promise<void> {
  const args = ["-hide_banner", "-loglevel", "error", "-y", "-i", wav, "-vn", ...CODECS[ending]!, target]
  const child = spawn("ffmpeg", args, { stdio: ["ignore", "ignore", "pipe"], signal })
  let told = ""
  child.stderr.on("data", (part: Buffer) => void (told += part.toString("utf8").slice(0, 2000)))
  await new Promise<void>((resolve, reject) => {
    child.on("error", error =>
      reject((error as NodeJS.ErrnoException).code === "ENOENT" ? new FfmpegMissing("there is no ffmpeg") : error),
    )
    child.on("close", status => {
      if (status === 0) resolve()
      // An interrupt from the keyboard reaches ffmpeg too, and sooner perhaps.
      else if (signal.aborted) reject(new Stopped("stopped"))
      else reject(new Error(`ffmpeg could not write it: ${told.trim().split("\n")[0] ?? ""}`))
    })
  })
}

export class FfmpegMissing extends Error {}

/** The sound was written as WAV instead. */
export const missingProblem = (wanted: string, written: string): Problem => ({
  code: "ffmpeg-missing",
  what: `The program ffmpeg, which makes “${wanted}”, is not on this machine; the sound is in “${written}”.`,
  mend: "Install ffmpeg (on Debian: sudo apt-get install ffmpeg; elsewhere from ffmpeg.org) and ask again, or be content with WAV.",
  severity: "warning",
})
