/** How a piece is heard: everything that can be chosen, as it is kept and as the core takes it. */
import type { PerformanceOptions, Tempo, Timbre, TuningName, VoiceId, VoiceSound } from "@resolutio/core"

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
  readonly voices: Readonly<Record<VoiceId, VoiceHearing>>
}

export const USUAL_HEARING: Hearing = { speed: 1, countIn: false, timbre: "voices", voices: {} }

export const performanceOptions = ({ speed, timbre, tempo, tuning, voices }: Hearing): PerformanceOptions => ({
  speed,
  timbre,
  ...(tempo ? { tempo } : {}),
  ...(tuning ? { tuning } : {}),
  voices: new Map(Object.entries(voices) as [VoiceId, VoiceHearing][]),
})
