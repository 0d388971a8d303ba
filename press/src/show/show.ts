/** One HTML file that shows, explains and plays a piece by itself: no other file, no network, nothing that it could send anywhere. */
import { sha256 } from "@noble/hashes/sha2"
import {
  SHOWN_THEME,
  drawPage,
  layTime,
  mixDown,
  soundingOf,
  svgOf,
  toNumber,
  plus,
  type Page,
  type Performance,
  type Reading,
  type Score,
  type Scene,
  type SignId,
  type Sounding,
} from "@resolutio/core"
import { base64 } from "../bytes.js"
import { renderedInMemory, type Rest } from "../sound/render.js"
import type { Tools } from "../tools.js"
import { packed, unpacked } from "./adpcm.js"
import type { Heard, ShowData, ShownSystem } from "./data.js"
import { HalvedMono } from "./resample.js"
import { showDrawings } from "./script-drawings.js"
import { showPlayer } from "./script.js"
import { styleSheet } from "./style.js"
import { toldVoices } from "./told.js"
import { SHOW_WORDS } from "./words.js"

export type ShowView = "page" | "time"

export interface ShowWanted {
  readonly page: Page
  readonly readings: readonly Reading[]
  readonly score: Score
  /** What is heard; without it the file has no sound. */
  readonly performance?: Performance
  /** At least one. */
  readonly views: readonly ShowView[]
  /** "Resolutio 0.1.0". */
  readonly maker: string
}

/** In hertz; of what is sung nothing that matters is over half of it. */
const RATE = 24_000
/** Px of the drawings. */
const WIDTH = 1180
const SIZE = 0.75

/** The text of the file. `rest` hears how far the sound has come. */
export async function showPiece(wanted: ShowWanted, tools: Tools, rest: Rest): Promise<string> {
  const { page, readings, score, performance, views, maker } = wanted
  const sound = performance && (await soundOf(performance, tools, rest))
  const sounding = soundingOf(page, readings)
  const time = layTime({ ...sounding, score }, { width: WIDTH, size: SIZE, lanes: true })
  const data: ShowData = {
    voices: toldVoices(readings, score),
    also: sungAgain(sounding),
    heard: performance ? heardIn(performance, score) : [],
    systems: time.systems.map(({ top, height, axis }): ShownSystem => {
      const { from, to, left, scale } = axis
      return { top: top - (time.systems[0]?.top ?? 0), height, from, to, left, scale }
    }),
    ...(sound ? { sound: { rate: RATE, samples: sound.samples } } : {}),
    words: SHOW_WORDS.script,
  }
  const title = page.title.trim() === "" ? "A piece in old notation" : page.title
  const drawings = views.map(view =>
    view === "page"
      ? music("page", SHOW_WORDS.page, SHOW_WORDS.pageHow, drawPage({ ...page, title: "" }, { width: WIDTH }), 0)
      : music("time", SHOW_WORDS.time, SHOW_WORDS.timeHow, time.scene, time.systems[0]?.top ?? 0),
  )
  const style = styleSheet(await fontFaces(tools))
  const script = `(${showPlayer.toString()})(${unpacked.toString()},${showDrawings.toString()})`
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy(script, style)}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escaped(title)}</title>
<style>${style}</style>
</head>
<body>
<header><h1>${escaped(title)}</h1><button type="button" id="ground" hidden data-scripted>${SHOW_WORDS.script.dark}</button></header>
<main>
${listening(sound !== undefined, performance?.sentences ?? [])}
${drawings.join("\n")}
<section class="reason" id="reason" aria-label="${SHOW_WORDS.reason}"><h2>${SHOW_WORDS.reason}</h2>
<div aria-live="polite"><p class="headline" id="headline">${SHOW_WORDS.start}</p>
<p class="sentence" id="sentence">${SHOW_WORDS.startHow}</p></div>
<p class="quiet" id="source"></p><p class="quiet" id="because"></p></section>
</main>
<footer><p class="quiet">${SHOW_WORDS.keys}</p><p class="quiet">${escaped(SHOW_WORDS.made(maker))}</p></footer>
<script type="application/json" id="piece">${json(data)}</script>
${sound ? `<script type="text/plain" id="sound">${base64(sound.bytes)}</script>\n` : ""}<script>${script}</script>
</body>
</html>
`
}

function sungAgain({ readings, signOf }: Sounding): Record<string, SignId> {
  const ids = readings.flatMap(one => one.signs.map(({ id }) => id))
  return Object.fromEntries(ids.flatMap(id => (signOf(id) === id ? [] : [[id, signOf(id)]])))
}

/** Nothing but its own script, style, letters and sound. */
function policy(script: string, style: string): string {
  const hash = (text: string): string => `'sha256-${base64(sha256(new TextEncoder().encode(text)))}'`
  return [
    "default-src 'none'",
    `script-src ${hash(script)}`,
    `style-src ${hash(style)}`,
    "font-src data:",
    "media-src blob:",
    "base-uri 'none'",
    "form-action 'none'",
    "require-trusted-types-for 'script'",
    "trusted-types 'none'",
  ].join("; ")
}

/** What stands in the file as text of its own. */
const escaped = (text: string): string =>
  text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;").replaceAll('"', "&quot;")
/** No text in it can end the element that it stands in. */
const json = (data: ShowData): string =>
  JSON.stringify(data).replaceAll("<", "\\u003c").replaceAll("\u2028", "\\u2028").replaceAll("\u2029", "\\u2029")

function music(id: ShowView, name: string, how: string, { width, height, content }: Scene, top: number): string {
  const drawn = svgOf(content, {}, { theme: SHOWN_THEME })
  return `<section aria-label="${name}"><h2>${name}</h2>
<div class="music" id="${id}" role="listbox" tabindex="0" aria-label="${name}. ${how}"><div role="option" class="heard" aria-selected="false" id="${id}-none">${how}</div><div role="presentation">
<svg width="${width}" height="${height - top}" viewBox="0 ${top} ${width} ${height - top}" aria-hidden="true">${drawn}</svg></div></div></section>`
}

const SPEEDS = [
  [0.5, "half as fast"],
  [0.75, "three quarters"],
  [1, "as it is"],
  [1.25, "a quarter faster"],
] as const

function listening(isThere: boolean, sentences: readonly string[]): string {
  const { listening: name, level, speed, at, quiet, how, silent, script } = SHOW_WORDS
  if (!isThere) return `<p class="quiet">${silent}</p>`
  const speeds = SPEEDS.map(
    ([value, how]) => `<option value="${value}"${value === 1 ? " selected" : ""}>${how}</option>`,
  )
  return `<section class="listening" aria-label="${name}" hidden data-scripted><h2>${name}</h2>
<button type="button" id="play" aria-keyshortcuts="Space"><span id="play-word">${script.play}</span><kbd aria-hidden="true">Space</kbd></button>
<label>${at} <input type="range" id="at" min="0" max="1" step="0.1" value="0"></label>
<label>${level} <input type="range" id="level" min="0" max="1" step="0.05" value="0.25"></label>
<label>${speed} <select id="speed">${speeds.join("")}</select></label>
<p class="quiet" id="told" role="status"></p>
<p class="quiet">${quiet}</p>
<details class="quiet"><summary>${how}</summary>${sentences.map(one => `<p>${escaped(one)}</p>`).join("")}</details></section>`
}

/**
 * When each sign is heard, and where that is on the axis that is shown. What is sung again has no other place on it than the first
 * time.
 */
function heardIn({ sounds, voices }: Performance, score: Score): Heard[] {
  const moments = new Map<SignId, readonly [onset: number, until: number]>()
  for (const { id, sign, onset, duration } of score.voices.flatMap(({ events }) => events)) {
    const moment = [toNumber(onset), toNumber(plus(onset, duration))] as const
    for (const name of [id, sign]) if (name !== null && !moments.has(name)) moments.set(name, moment)
  }
  const isHeard = new Set(voices.filter(one => one.heard).map(one => one.id))
  const short = (number: number): number => Math.round(number * 1000) / 1000
  return sounds.flatMap(({ voice, sign, note, start, end }): Heard[] => {
    const moment = [note, sign].map(one => (one === null ? undefined : moments.get(one))).find(Boolean)
    if (voice === null || sign === null || !moment || !isHeard.has(voice)) return []
    return [[sign, short(start), short(end), ...moment]]
  })
}

async function soundOf(performance: Performance, tools: Tools, rest: Rest) {
  const source = await renderedInMemory(performance, 2 * RATE, tools.bank, part => rest(part * 0.7))
  const halved = new HalvedMono(source.frames)
  const mixing = (part: number): Promise<void> | void => rest(0.7 + part * 0.25)
  await mixDown({ voices: performance.voices }, source, piece => halved.add(piece), mixing)
  const samples = halved.samples()
  return { bytes: packed(samples), samples: samples.length }
}

async function fontFaces(tools: Tools): Promise<string> {
  const fonts = await tools.pageFonts()
  return fonts
    .map(
      ({ family, weight, italic, woff2 }) =>
        `@font-face{font-family:"${family}";font-weight:${weight};${italic ? "font-style:italic;" : ""}src:url(data:font/woff2;base64,${base64(woff2)}) format("woff2")}`,
    )
    .join("\n")
}
