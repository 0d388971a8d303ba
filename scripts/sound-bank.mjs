// node scripts/sound-bank.mjs SOURCE.sf3 -o TARGET.sf3: makes core/assets/sound/voices.sf3 from four presets of FluidR3 Mono
// (Debian package fluidr3mono-gm-soundfont). It makes them fit for judging what a reading sounds like:
// every sample exactly in tune, beginning without delay, ending soon, in the middle, all equally loud. Needs ffmpeg.
import { spawnSync } from "node:child_process"
import { readFileSync, writeFileSync } from "node:fs"
import {
  BasicInstrument,
  BasicPreset,
  BasicSample,
  BasicSoundBank,
  GeneratorTypes,
  SoundBankLoader,
} from "spessasynth_core"
import { bundled } from "./lib/bundle.mjs"
import { envelope, locked, phaseOf, pitchTrack, putTogether, takenApart } from "./lib/harmonics.mjs"
import { giveUp, step } from "./lib/tools.mjs"

const [source, flag, target] = process.argv.slice(2)
if (!source || flag !== "-o" || !target) giveUp("Write: node scripts/sound-bank.mjs SOURCE.sf3 -o TARGET.sf3", 2)
const { loudnessMeter } = await bundled(`export { loudnessMeter } from "./core/src/performance/audio/index.ts"`)

/**
 * By program. `locked`: harmonics up to so many hertz are exactly in tune at every moment, and their strength swells in `swell`
 * seconds or slower; the pitch of all is followed over `pitch` seconds and made even. `begins`: the part of its strength at which a sample is let begin, and in how many seconds it fades in.
 * `air`: how much of what is no harmonic stays. `bright`: hertz above which it is dulled.
 */
const KINDS = {
  52: { name: "Voices", locked: 3000, swell: 0.12, pitch: 0.15, begins: [0.5, 0.012], air: 0.6 },
  19: { name: "Organ", locked: 3000, swell: 0.06, pitch: 0.3, begins: [0.4, 0.01], air: 0.8 },
  74: { name: "Recorder", locked: 0, swell: 0, pitch: 0.04, begins: [0.3, 0.008], air: 1, bright: 5500 },
  24: { name: "Plucked strings", locked: 450, swell: 0.02, pitch: 0.12, begins: [0.05, 0.001], air: 1, bright: 7500 },
}
/** Keys at which the lowest recorder is made anew rather than played slower. */
const LOWER_RECORDERS = [48, 54, 60, 66]
/** LUFS of every sample at its own pitch, in the middle and without attenuation. */
const LOUDNESS = -29
/** Timecents: 0.08 seconds for a fall of 100 decibels. */
const RELEASE = Math.round(1200 * Math.log2(0.08))

/** How plucked strings die away. */
const ENVELOPE = [GeneratorTypes.holdVolEnv, GeneratorTypes.decayVolEnv, GeneratorTypes.sustainVolEnv]

await BasicSoundBank.isSF3DecoderReady
const old = SoundBankLoader.fromArrayBuffer(Uint8Array.from(readFileSync(source)).buffer)
const bank = new BasicSoundBank("sf2")
bank.soundBankInfo = { ...old.soundBankInfo, name: "Resolutio voices, from FluidR3 Mono" }
for (const [program, kind] of Object.entries(KINDS)) {
  step(kind.name)
  const preset =
    old.presets.find(one => one.program === Number(program)) ?? giveUp(`The bank has no program ${program}.`)
  addPreset(Number(program), kind, zonesOf(preset))
}
bank.flush()
for (const sample of bank.samples) await sample.compressSample(vorbis)
writeFileSync(target, Buffer.from(bank.writeSF2({ decompress: false })))
console.log(`\n${target}: ${(readFileSync(target).length / 1e6).toFixed(2)} MB`)

/** One zone for each sample, as the first layer has it. */
function zonesOf(preset) {
  const { instrument } = preset.zones[0]
  const names = new Set()
  return instrument.zones.flatMap(zone => {
    if (names.has(zone.sample.name)) return []
    names.add(zone.sample.name)
    const get = type => zone.getGenerator(type, instrument.globalZone.getGenerator(type, undefined))
    const root = get(GeneratorTypes.overridingRootKey) ?? -1
    return [{ zone, get, root: root >= 0 ? root : zone.sample.originalKey, keys: { ...zone.keyRange } }]
  })
}

function addPreset(program, kind, zones) {
  const instrument = new BasicInstrument()
  instrument.name = kind.name
  const made = zones.flatMap(one => samplesOf(one, kind))
  const sorted = made.sort((a, b) => a.root - b.root)
  sorted.forEach((one, at) => {
    const sample = new BasicSample(one.name, one.rate, one.root, 0, 1, one.loop[0], one.loop[1])
    sample.setAudioData(Float32Array.from(one.samples), one.rate)
    bank.addSamples(sample)
    const zone = instrument.createZone(sample)
    zone.keyRange = { min: at === 0 ? 0 : sorted[at - 1].top + 1, max: at === sorted.length - 1 ? 127 : one.top }
    zone.setGenerator(GeneratorTypes.sampleModes, 1)
    zone.setGenerator(GeneratorTypes.overridingRootKey, one.root)
    zone.setGenerator(GeneratorTypes.fineTune, one.fineTune)
    for (const [type, value] of one.generators ?? []) zone.setGenerator(type, value)
  })
  instrument.globalZone.setGenerator(GeneratorTypes.releaseVolEnv, RELEASE)
  bank.addInstruments(instrument)
  const preset = new BasicPreset(bank)
  preset.name = kind.name
  preset.program = program
  preset.createZone(instrument)
  bank.addPresets(preset)
}

/** Taken apart into harmonics and put together at one pitch; the lowest recorder also at lower ones. */
function samplesOf({ zone, get, root, keys }, kind) {
  const { sample } = zone
  const rate = sample.sampleRate
  const samples = goneOn(sample, Math.round(0.2 * rate))
  const nominal = 440 * 2 ** ((root - 69) / 12)
  const count = Math.floor((rate / 2 - 200) / (nominal * 1.03))
  const even = phaseOf(Float64Array.of(nominal), 1, samples.length, rate)
  const first = takenApart(samples, rate, even, rate / nominal, Math.min(6, count))
  const track = pitchTrack(first, rate, nominal, kind.pitch)
  const turns = wholeTurnsInLoop(phaseOf(track, first.hop, samples.length, rate), sample.loopStart, sample.loopEnd)
  const parts = takenApart(samples, rate, turns, rate / nominal, count)
  const sum = putTogether(parts, turns)
  const air = samples.map((one, i) => one - sum[i])
  const still = locked(parts, rate, Math.floor(kind.locked / nominal), kind.swell)
  const low = kind.name === "Recorder" && keys.min <= 0 ? LOWER_RECORDERS : []
  return [root, ...low].map(key => {
    const wanted = 440 * 2 ** ((key - 69) / 12)
    const loop = sample.loopEnd - sample.loopStart
    const hertz = (Math.round((loop * wanted) / rate) * rate) / loop
    const phase = Float64Array.from({ length: samples.length }, (_, i) => (i * hertz) / rate)
    const tone = putTogether(still, phase).map((one, i) => one + kind.air * air[i])
    const cut = begun(dulled(tone, rate, kind.bright), rate, kind.begins, sample)
    return {
      ...levelled(cut, rate),
      name: `${kind.name} ${key}`,
      rate,
      root: key,
      top: key === root ? keys.max : key + 3,
      fineTune: Math.round(1200 * Math.log2(wanted / hertz)),
      generators: ENVELOPE.flatMap(type => {
        const value = get(type)
        return value === undefined ? [] : [[type, value]]
      }),
    }
  })
}

/** Up to the end of the loop, and so many samples of its next time round: what is heard there is looked at on both sides. */
function goneOn(sample, more) {
  const data = sample.getAudioData()
  const [start, end] = [sample.loopStart, Math.min(sample.loopEnd, data.length)]
  const next = Array.from({ length: more }, (_, i) => data[start + (i % (end - start))])
  return Float64Array.from([...data.subarray(0, end), ...next])
}

/** The same turns, a hair faster or slower, so that the loop holds a whole number of them. */
function wholeTurnsInLoop(phase, start, end) {
  const inside = phase[end] - phase[start]
  const scale = Math.round(inside) / inside
  return phase.map(turns => turns * scale)
}

/** Two poles that take away what is above. */
function dulled(samples, rate, hertz) {
  if (!hertz) return samples
  const k = Math.tan((Math.PI * hertz) / rate)
  const norm = 1 / (1 + k * Math.SQRT2 + k * k)
  const [b0, a1, a2] = [k * k * norm, 2 * (k * k - 1) * norm, (1 - k * Math.SQRT2 + k * k) * norm]
  let [x1, x2, y1, y2] = [0, 0, 0, 0]
  return samples.map(x => {
    const y = b0 * (x + 2 * x1 + x2) - a1 * y1 - a2 * y2
    ;[x2, x1, y2, y1] = [x1, x, y1, y]
    return y
  })
}

/** What comes before the tone has its strength is cut off, what is left fades in; a little of the loop follows its end. */
function begun(samples, rate, [part, fade], { loopStart, loopEnd }) {
  const strength = envelope(samples, rate, 0.01)
  const full = strength.subarray(0, loopEnd).toSorted()[Math.floor(loopEnd * 0.6)]
  const top = part < 0.1 ? strength.reduce((most, one) => Math.max(most, one), 0) : full
  const start = Math.min(
    strength.findIndex(one => one >= part * top),
    loopStart,
  )
  const length = Math.round(fade * rate)
  const kept = samples.slice(start, loopEnd + 64)
  for (let i = 0; i < length; i++) kept[i] *= (1 - Math.cos((Math.PI * (i + 1)) / (length + 1))) / 2
  return { samples: kept, loop: [loopStart - start, loopEnd - start] }
}

/** As loud as all others, by the half second in which it is loudest. */
function levelled({ samples, loop }, rate) {
  const meter = loudnessMeter(rate)
  const second = new Float32Array(Math.round(rate * 1.2))
  for (let i = 0; i < second.length; i++) {
    const inside = i < loop[1] ? i : loop[0] + ((i - loop[0]) % (loop[1] - loop[0]))
    second[i] = samples[inside] * Math.SQRT1_2
  }
  meter.add(second, second)
  const gain = 10 ** ((LOUDNESS - meter.loudness()) / 20)
  return { samples: samples.map(one => one * gain), loop }
}

/** By the encoder of ffmpeg. */
async function vorbis(samples, rate) {
  const args = ["-hide_banner", "-loglevel", "error", "-f", "f32le", "-ar", rate, "-ac", "1", "-i", "-"]
  const encoded = spawnSync("ffmpeg", [...args, "-c:a", "libvorbis", "-q:a", "6", "-bitexact", "-f", "ogg", "-"], {
    input: Buffer.from(samples.buffer, samples.byteOffset, samples.byteLength),
    maxBuffer: 64e6,
  })
  if (encoded.status !== 0) giveUp(`ffmpeg could not pack a sample: ${encoded.stderr.toString()}`)
  return new Uint8Array(encoded.stdout)
}
