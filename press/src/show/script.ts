/// <reference lib="dom" />
/**
 * The page's script. Both functions are put into the page as they are, so nothing outside of them is used: no import, no constant.
 */
import type { ShowData } from "./data.js"
import type { ShownDrawings, ShownView } from "./script-drawings.js"

/** Runs in the page. `unpack` gives back the samples of the sound that is packed in it. */
export function showPlayer(
  unpack: (bytes: Uint8Array) => Int16Array,
  drawings: (data: ShowData) => ShownDrawings,
): void {
  const byId = <E extends Element = HTMLElement>(id: string): E => document.getElementById(id) as unknown as E
  const data = JSON.parse(byId("piece").textContent ?? "") as ShowData
  const { words } = data
  const isCalm = matchMedia("(prefers-reduced-motion: reduce)")

  interface Known {
    readonly voice: number
    readonly at: number
    readonly sign: ShowData["voices"][number]["signs"][number]
  }
  const known = new Map<string, Known>()
  data.voices.forEach(({ signs }, voice) => signs.forEach((sign, at) => known.set(sign.id, { voice, at, sign })))

  const { views, boxesOf, put, keepSeen, nearest } = drawings(data)

  // Asking.
  let selected: string | undefined
  function select(id: string | undefined, show = true): void {
    const one = id === undefined ? undefined : known.get(id)
    if (!one) return
    selected = id
    for (const view of views) {
      view.asked.replaceChildren()
      for (const place of one.sign.because.flatMap(cause => boxesOf(view, cause)))
        put(view.asked, "circle", { cx: place.x + place.width / 2, cy: place.bottom + 6, r: 3.5, class: "bead" })
      const places = boxesOf(view, one.sign.id)
      for (const { x, y, width, height } of places)
        put(view.asked, "rect", { x: x - 5, y: y - 5, width: width + 10, height: height + 10, class: "cartouche" })
      for (const { x, bottom, width } of boxesOf(view, one.sign.id, true))
        put(view.asked, "rect", { x, y: bottom, width, height: 5, class: "foot" })
      const [place] = places
      if (!place) continue
      const option = view.box.querySelector("[role=option]")!
      option.textContent = one.sign.spoken
      option.id = `${view.box.id}-${one.voice}-${one.at}`
      view.box.setAttribute("aria-activedescendant", option.id)
      if (show) keepSeen(view, place)
    }
    tell(one)
  }
  function tell({ sign }: Known): void {
    byId("headline").textContent = sign.headline
    byId("sentence").textContent = sign.sentence
    byId("source").textContent = `¶ ${sign.place}. ${sign.source}`
    const causes = sign.because.flatMap(id => known.get(id) ?? [])
    const line = byId("because")
    line.replaceChildren()
    if (causes.length === 0) return
    line.append(`${words.because} `)
    for (const cause of causes) {
      const button = document.createElement("button")
      button.type = "button"
      button.textContent = cause.sign.place
      button.addEventListener("click", () => select(cause.sign.id))
      line.append(button, " ")
    }
  }

  // Going along.
  function walk(key: string): boolean {
    const one = selected === undefined ? undefined : known.get(selected)
    const voice = data.voices[one?.voice ?? 0]
    if (!voice) return false
    const { signs } = voice
    const last = signs.length - 1
    const to: Readonly<Record<string, number>> = {
      ArrowRight: one ? Math.min(last, one.at + 1) : 0,
      ArrowLeft: one ? Math.max(0, one.at - 1) : 0,
      Home: 0,
      End: last,
    }
    if (to[key] !== undefined) select(signs[to[key]]?.id)
    else if (key === "ArrowUp" || key === "ArrowDown") across(one, key === "ArrowUp" ? -1 : 1)
    else return false
    return true
  }
  function across(one: Known | undefined, by: 1 | -1): void {
    const other = data.voices[(one?.voice ?? 0) + (one ? by : 0)]?.signs ?? []
    const moment = one?.sign.onset ?? 0
    select((other.findLast(({ onset }) => onset <= moment) ?? other[0])?.id)
  }
  for (const { box } of views) {
    box.addEventListener("click", ({ clientX, clientY }) => {
      const near = nearest(box, clientX, clientY, id => known.has(id))
      if (near) select(near)
    })
  }
  document.addEventListener("keydown", event => {
    const { key, target, ctrlKey, metaKey, altKey } = event
    if (ctrlKey || metaKey || altKey || !(target instanceof Element)) return
    const isControl = target.closest("input, select, button") !== null
    if (key === " " && !target.closest("button, select") && data.sound) turn()
    else if (isControl || !walk(key)) return
    event.preventDefault()
  })

  // Listening.
  let audio: HTMLAudioElement | undefined
  function made(): HTMLAudioElement {
    if (audio) return audio
    const text = atob((byId("sound").textContent ?? "").trim())
    const bytes = Uint8Array.from(text, letter => letter.charCodeAt(0))
    const { rate, samples: count } = data.sound!
    const samples = unpack(bytes).subarray(0, count)
    const head = new DataView(new ArrayBuffer(44))
    const letters = (at: number, word: string): void => {
      for (let i = 0; i < word.length; i++) head.setUint8(at + i, word.charCodeAt(i))
    }
    letters(0, "RIFF")
    head.setUint32(4, 36 + samples.byteLength, true)
    letters(8, "WAVEfmt ")
    head.setUint32(16, 16, true)
    head.setUint16(20, 1, true)
    head.setUint16(22, 1, true)
    head.setUint32(24, rate, true)
    head.setUint32(28, 2 * rate, true)
    head.setUint16(32, 2, true)
    head.setUint16(34, 16, true)
    letters(36, "data")
    head.setUint32(40, samples.byteLength, true)
    audio = new Audio(URL.createObjectURL(new Blob([head, samples as BlobPart], { type: "audio/wav" })))
    audio.volume = Number(byId<HTMLInputElement>("level").value)
    audio.playbackRate = Number(byId<HTMLSelectElement>("speed").value)
    audio.addEventListener("ended", () => stopped(true))
    audio.addEventListener("pause", () => stopped(false))
    audio.addEventListener("error", () => (byId("told").textContent = words.failed))
    return audio
  }
  const play = document.getElementById("play")
  const at = byId<HTMLInputElement>("at")
  function turn(): void {
    const sound = made()
    if (!sound.paused) return sound.pause()
    const start = data.heard.find(([id]) => id === selected)?.[1]
    if (start !== undefined && selected !== playedFrom) sound.currentTime = start
    playedFrom = selected
    void begin(sound)
  }
  async function begin(sound: HTMLAudioElement): Promise<void> {
    try {
      await sound.play()
      byId("play-word").textContent = words.pause
      follow()
    } catch {
      byId("told").textContent = words.failed
    }
  }
  let playedFrom: string | undefined
  function stopped(isOver: boolean): void {
    byId("play-word").textContent = words.play
    if (!isOver) return
    audio!.currentTime = 0
    playedFrom = undefined
    for (const { heard } of views) heard.replaceChildren()
  }
  function follow(): void {
    if (!audio || audio.paused) return
    mark(audio.currentTime)
    requestAnimationFrame(follow)
  }
  let before = ""
  function mark(now: number): void {
    const sounding = data.heard.filter(([, start, end]) => start <= now && now < end)
    at.value = String(now)
    at.setAttribute("aria-valuetext", `${Math.round(now)} ${words.seconds} ${Math.round(Number(at.max))}`)
    const names = sounding.map(([id]) => id).join(" ")
    const isSame = names === before
    before = names
    const last = sounding.at(-1)
    const share = last && !isCalm.matches ? (now - last[1]) / (last[2] - last[1]) : 0
    const moment = last && last[3] + share * (last[4] - last[3])
    for (const view of views) {
      if (isSame && !(view.isTime && !isCalm.matches)) continue
      view.heard.replaceChildren()
      for (const [id, , , onset] of sounding)
        for (const place of boxesOf(view, id))
          if (!view.isTime || beginsAt(place, onset)) wedge(view, place.x + place.width / 2, place.y - 6)
      if (view.isTime && moment !== undefined) onAxis(view, moment)
    }
  }
  /** A canon has its signs on the axis several times. */
  function beginsAt({ x, y }: DOMRect, onset: number): boolean {
    const system = data.systems.find(({ top, height }) => top <= y && y < top + height)
    const begin = system && system.left + (onset - system.from) * system.scale
    return begin !== undefined && Math.abs(x - begin) < 24
  }
  function wedge({ heard }: ShownView, x: number, y: number, name = "wedge"): void {
    put(heard, "path", { d: `M${x} ${y}l-6 -11h12z`, class: name })
  }
  let shownSystem = -1
  function onAxis(view: ShownView, moment: number): void {
    const number = data.systems.findIndex(({ from, to }) => from <= moment && moment < to)
    const system = data.systems[number]
    if (!system) return
    const x = system.left + (moment - system.from) * system.scale
    put(view.heard, "path", { d: `M${x} ${system.top + 32}l-8 -15h16z`, class: "wedge axis-wedge" })
    if (x < view.box.scrollLeft || x > view.box.scrollLeft + view.box.clientWidth - 30) view.box.scrollLeft = x - 60
    if (number === shownSystem) return
    shownSystem = number
    keepSeen(view, new DOMRect(x, system.top, 1, Math.min(system.height, innerHeight / 2)))
  }
  if (play && data.sound) {
    play.addEventListener("click", turn)
    at.max = String(data.sound.samples / data.sound.rate)
    at.addEventListener("input", () => {
      made().currentTime = Number(at.value)
      mark(Number(at.value))
    })
    byId("level").addEventListener("input", () => (made().volume = Number(byId<HTMLInputElement>("level").value)))
    byId("speed").addEventListener(
      "change",
      () => (made().playbackRate = Number(byId<HTMLSelectElement>("speed").value)),
    )
  }

  // Dark and light.
  const root = document.documentElement
  const isDark = (): boolean =>
    (root.dataset["ground"] ?? (matchMedia("(prefers-color-scheme: dark)").matches ? "dark" : "light")) === "dark"
  const ground = byId("ground")
  const name = (): void => void (ground.textContent = isDark() ? words.light : words.dark)
  name()
  ground.addEventListener("click", () => {
    root.dataset["ground"] = isDark() ? "light" : "dark"
    name()
  })
  for (const element of document.querySelectorAll("[hidden][data-scripted]")) element.removeAttribute("hidden")
}
