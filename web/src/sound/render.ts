/** A performance as samples: the bank by its synthesizer, voices mixed at their places, brought to a quiet loudness. */
import {
  limiterGains,
  limiterMargin,
  loudnessMeter,
  pcm16,
  synthScript,
  wavHeader,
  type Performance,
  type SynthMessage,
} from "@resolutio/core"
import { SoundBankLoader, SpessaSynthProcessor } from "spessasynth_core"

export const RATE = 44_100
/** In LUFS, as the files of the command line: well under music that is sold. */
const LOUDNESS = -18
const CEILING = 10 ** (-2 / 20)
/** Frames that the synthesizer makes at a time: finely while a tone begins or ends. */
const FINE = 128
const COARSE = 1024
const LIVELY = 6000
/** What rings on after the last tone, in seconds. */
const TAIL = 1.5

type Sides = readonly [left: Float32Array, right: Float32Array]

/** The sound as a WAV file. `told` hears how far it has come, 0 to 1. */
export async function renderWav(
  performance: Performance,
  bank: ArrayBuffer,
  told: (share: number) => void,
): Promise<ArrayBuffer> {
  const frames = Math.ceil((performance.duration + TAIL) * RATE)
  const sides = await mixed(performance, bank, frames, told)
  const loud = atLoudness(sides)
  const [head, samples] = [wavHeader({ frames, rate: RATE, channels: 2 }), pcm16([...loud])]
  const file = new Uint8Array(head.length + samples.length)
  file.set(head)
  file.set(samples, head.length)
  return file.buffer
}

async function mixed(
  performance: Performance,
  bank: ArrayBuffer,
  frames: number,
  told: (share: number) => void,
): Promise<Sides> {
  const script = synthScript(performance, { dry: true })
  const synth = new SpessaSynthProcessor(RATE, { effectsEnabled: false, eventsEnabled: false, maxBufferSize: COARSE })
  await synth.processorInitialized
  synth.soundBankManager.addSoundBank(SoundBankLoader.fromArrayBuffer(bank), "bank")
  synth.setSystemParameter("voiceCap", 8 * script.channels.size)
  while (synth.midiChannels.length < script.channelCount) synth.createMIDIChannel()
  const send = ({ channel, bytes }: SynthMessage): void => synth.processMessage([...bytes], channel - (channel % 16))
  script.setup.forEach(send)
  const all: Sides = [new Float32Array(frames), new Float32Array(frames)]
  const block = Array.from({ length: script.channelCount + 1 }, (): [Float32Array, Float32Array] => [
    new Float32Array(COARSE),
    new Float32Array(COARSE),
  ])
  const gains = gainsOf(performance, script)
  let [next, lively] = [0, 0]
  for (let done = 0; done < frames;) {
    const frameOf = (message: SynthMessage): number => Math.round(message.seconds * RATE)
    for (; script.messages[next] && frameOf(script.messages[next]!) <= done; lively = LIVELY)
      send(script.messages[next++]!)
    const until = script.messages[next] ? Math.min(frames, frameOf(script.messages[next]!)) : frames
    const count = Math.min(lively > 0 ? FINE : COARSE, until - done)
    for (const pair of block) for (const side of pair) side.fill(0)
    const [wet, dry] = block.at(-1)!
    synth.processSplit(block.slice(0, -1), wet, dry, 0, count)
    for (const [channel, [toLeft, toRight]] of gains) addAt(all, block[channel]!, done, count, toLeft, toRight)
    done += count
    lively -= count
    if (done % (RATE * 4) < count) told(done / frames)
  }
  return all
}

/** Each voice's channel with what of it goes to either side; left and right together always as strong. */
function gainsOf(
  { voices }: Performance,
  { channels }: ReturnType<typeof synthScript>,
): [channel: number, sides: [number, number]][] {
  const sides = (level: number, place: number): [number, number] => {
    const angle = ((Math.max(-1, Math.min(1, place)) + 1) * Math.PI) / 4
    return [10 ** (level / 20) * Math.cos(angle), 10 ** (level / 20) * Math.sin(angle)]
  }
  const heard = new Map(
    voices.map(voice => [voice.id as string | null, voice.heard ? sides(voice.level, voice.place) : [0, 0]]),
  )
  return [...channels].map(([voice, channel]) => [channel, (heard.get(voice) ?? sides(-6, 0)) as [number, number]])
}

function addAt(
  [left, right]: Sides,
  [one, other]: Sides,
  from: number,
  count: number,
  toLeft: number,
  toRight: number,
): void {
  for (let i = 0; i < count; i++) {
    // a tone in the middle is on either side with the root of one half
    const tone = (one[i]! + other[i]!) * Math.SQRT1_2
    left[from + i] = left[from + i]! + toLeft * tone
    right[from + i] = right[from + i]! + toRight * tone
  }
}

function atLoudness([left, right]: Sides): Sides {
  const meter = loudnessMeter(RATE)
  meter.add(left, right)
  const [loudness, peak] = [meter.loudness(), meter.peak()]
  const gain = Number.isFinite(loudness) ? 10 ** ((LOUDNESS - loudness) / 20) : peak > 0 ? 0.1 / peak : 1
  for (const side of [left, right]) for (let i = 0; i < side.length; i++) side[i] = side[i]! * gain
  return gain * peak > CEILING ? limited([left, right]) : [left, right]
}

/** The limiter looks a little before and after each moment. */
function limited([left, right]: Sides): Sides {
  const margin = limiterMargin(RATE)
  const wide = (side: Float32Array): Float32Array => {
    const all = new Float32Array(side.length + 2 * margin)
    all.set(side, margin)
    return all
  }
  const gains = limiterGains(wide(left), wide(right), CEILING, RATE)
  const under = (side: Float32Array): Float32Array => side.map((sample, i) => sample * (gains[i] ?? 1))
  return [under(left), under(right)]
}
