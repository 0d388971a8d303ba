/** What `resolutio hear` takes. */
import type { AlignOptions } from "@resolutio/core"
import type { OutputFlags } from "./output.js"
import type { ReadingFlags } from "./reading.js"

export interface HearFlags extends ReadingFlags, OutputFlags {
  readonly files: "all" | "each" | "practice"
  readonly balance?: boolean
  readonly sound: readonly string[]
  readonly level: readonly string[]
  readonly place: readonly string[]
  readonly mute: readonly string[]
  readonly solo: readonly string[]
  readonly tempo?: string
  readonly speed?: string
  readonly equivalence: readonly string[]
  readonly tuning?: string
  readonly year?: string
  readonly pitch?: string
  readonly shift?: string
  readonly plica: "sung" | "read" | "unsung"
  readonly repeats: NonNullable<AlignOptions["repeats"]>
  readonly fermata?: string
  readonly final?: string
  readonly countIn?: string
  readonly from?: string
  readonly to?: string
  readonly loop?: string
  /** True where no place is named: the most doubtful one. */
  readonly rivals?: string | true
  readonly markers: readonly string[]
}
