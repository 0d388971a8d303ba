/** What makes the tones: the sound bank by its synthesizer, or plain sines. One stream of samples for each voice. */
import {
  synthScript,
  toneRenderer,
  type Performance,
  type SynthMessage,
  type SynthScript,
  type VoiceId,
} from "@resolutio/core"

/** Brings the bytes of the sound bank, which may be written into. */
export type Bank = () => Promise<ArrayBuffer>

export interface Source {
  /** Adds what each voice sounds from frame `at` on; null is the count-in. Asked for in order, piece by piece. */
  add(into: ReadonlyMap<VoiceId | null, Float32Array>, at: number): void
}

/** Voices with the timbre "tone" sound by themselves; the bank is loaded only where another is asked for. */
export async function sourcesOf(performance: Performance, rate: number, bank: Bank): Promise<Source[]> {
  const plain = new Set<VoiceId | null>(performance.voices.filter(one => one.timbre === "tone").map(one => one.id))
  if (plain.size === performance.voices.length) plain.add(null)
  const parted = (tone: boolean): Performance => ({
    ...performance,
    sounds: performance.sounds.filter(({ voice }) => plain.has(voice) === tone),
  })
  const tones = plain.size > 0 ? [toneSource(parted(true), rate)] : []
  return plain.has(null) ? tones : [...tones, await bankSource(parted(false), rate, bank)]
}

function toneSource({ sounds }: Performance, rate: number): Source {
  const renderer = toneRenderer(sounds, rate)
  return {
    add(into, at) {
      for (const [voice, samples] of into) renderer.add(voice, samples, at)
    },
  }
}

/** The synthesizer reckons its envelopes so many frames at a time: finely while a tone begins or ends, else coarsely. */
const FINE = 128
const COARSE = 1024
/** Frames after a message for which it is done finely. */
const LIVELY = 6000

async function bankSource(performance: Performance, rate: number, bank: Bank): Promise<Source> {
  const { SoundBankLoader, SpessaSynthProcessor } = await import("spessasynth_core")
  const script = synthScript(performance, { dry: true })
  const synth = new SpessaSynthProcessor(rate, { effectsEnabled: false, eventsEnabled: false, maxBufferSize: COARSE })
  await synth.processorInitialized
  synth.soundBankManager.addSoundBank(SoundBankLoader.fromArrayBuffer(await bank()), "bank")
  // Each voice has one tone, and one or two that die away.
  synth.setSystemParameter("voiceCap", 8 * script.channels.size)
  while (synth.midiChannels.length < script.channelCount) synth.createMIDIChannel()
  const send = ({ channel, bytes }: SynthMessage): void => synth.processMessage([...bytes], channel - (channel % 16))
  script.setup.forEach(send)
  return played(synth, script, send, rate)
}

type Synth = Pick<InstanceType<(typeof import("spessasynth_core"))["SpessaSynthProcessor"]>, "processSplit">

function played(synth: Synth, script: SynthScript, send: (message: SynthMessage) => void, rate: number): Source {
  const { messages, channels, channelCount } = script
  let [next, lively] = [0, 0]
  let outputs: Float32Array[][] = []
  return {
    add(into, at) {
      const frames = [...into.values()][0]?.length ?? 0
      if (outputs[0]?.[0]?.length !== frames) outputs = pairs(channelCount + 1, frames)
      else for (const pair of outputs) for (const side of pair) side.fill(0)
      const [wet, dry] = outputs.at(-1)!
      const frameOf = (message: SynthMessage) => Math.round(message.seconds * rate) - at
      for (let done = 0; done < frames;) {
        for (; messages[next] && frameOf(messages[next]!) <= done; lively = LIVELY) send(messages[next++]!)
        const until = messages[next] ? Math.min(frames, frameOf(messages[next]!)) : frames
        const count = Math.min(lively > 0 ? FINE : COARSE, until - done)
        synth.processSplit(outputs.slice(0, -1), wet!, dry!, done, count)
        done += count
        lively -= count
      }
      for (const [voice, samples] of into) addMiddle(samples, outputs[channels.get(voice) ?? -1])
    },
  }
}

const pairs = (count: number, frames: number): Float32Array[][] =>
  Array.from({ length: count }, () => [new Float32Array(frames), new Float32Array(frames)])

/** A tone in the middle is on either side with the root of one half. */
function addMiddle(samples: Float32Array, [left, right]: readonly Float32Array[] = []): void {
  if (!left || !right) return
  for (let i = 0; i < samples.length; i++) samples[i] = samples[i]! + (left[i]! + right[i]!) * Math.SQRT1_2
}
