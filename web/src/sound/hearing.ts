/** How a piece is heard: everything that can be chosen, as it is kept and as the core takes it. */
import {
  intervalFrom,
  type Equivalence,
  type PerformanceOptions,
  type Tempo,
  type Timbre,
  type TuningName,
  type VoiceId,
  type VoiceSound,
} from "@resolutio/core"

export type VoiceHearing = Partial<Omit<VoiceSound, "timbre">>

export interface Hearing {
  /** 1 as it is usually sung; 0.5 half as fast. */
  readonly speed: number
  /** Four beats are counted before it. */
  readonly countIn: boolean
  readonly timbre: Timbre
  /** Without it by practice, as an editor's estimate. */
  readonly tempo?: Tempo
  /** Without it by practice. */
  readonly tuning?: TuningName
  /** What stays equal where all voices change their sign; without it as the practice says. */
  readonly equivalence?: Equivalence
  /** Hertz of the a above the middle c; 440 without it. */
  readonly reference?: number
  /** All so much higher or lower, to suit singers: "-P4". */
  readonly shift?: string
  readonly voices: Readonly<Record<VoiceId, VoiceHearing>>
}

export const USUAL_HEARING: Hearing = { speed: 1, countIn: false, timbre: "voices", voices: {} }

/** Intervals by which singers are suited: up and down, to an octave. */
export const SHIFTS = ["-P8", "-P5", "-P4", "-M3", "-m3", "-M2", "M2", "m3", "M3", "P4", "P5", "P8"]

export function performanceOptions({ shift, voices, speed, countIn: _, ...more }: Hearing): PerformanceOptions {
  const interval = shift === undefined ? undefined : intervalFrom(shift)
  return {
    ...more,
    speed,
    ...(interval ? { shift: interval } : {}),
    voices: new Map(Object.entries(voices) as [VoiceId, VoiceHearing][]),
  }
}
