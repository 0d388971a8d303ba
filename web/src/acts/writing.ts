/** Acts that change the page. Most of them act only while one writes on it; then letters are notes and figures are levels. */
import { LEVELS, writing, type Page, type Sign, type SignId } from "@resolutio/core"
import { flatOf, voiceOf } from "../document/index-signs.js"
import { select, view } from "../view/view.js"
import { along } from "../view/walk.js"
import { words } from "../words/index.js"
import type { Act } from "./acts.js"
import { NEW, Pen, type Parts } from "./pen.js"

const STEPS = ["a", "b", "c", "d", "e", "f", "g"] as const

export function writingActs(parts: Parts): Act[] {
  const pen = new Pen(parts)
  return [...pageActs(pen), ...signActs(pen), ...alteringActs(pen), ...movingActs(pen), ...copyingActs(pen)]
}

function pageActs(pen: Pen): Act[] {
  const { acts } = words
  return [
    {
      id: "write",
      group: "write",
      words: acts.write,
      key: "w",
      run: () => {
        const { open } = view.getState()
        view.setState({
          writing: NEW,
          open: open.includes("page") ? open : [...open.slice(-1), "page"],
          sheet: undefined,
        })
      },
    },
    {
      id: "text",
      group: "write",
      words: acts.text,
      key: "x",
      run: () => {
        const { open, text } = view.getState()
        view.setState({
          text: !text,
          open: open.includes("page") ? open : [...open.slice(-1), "page"],
          sheet: undefined,
        })
      },
    },
    {
      id: "takeAway",
      group: "write",
      words: acts.takeAway,
      key: "Delete",
      otherKey: "Backspace",
      isOff: () => pen.chosen.length === 0,
      run: () => pen.make(writing.takeAway(pen.page, pen.chosen), words.steps.takenAway(pen.placeOf(pen.chosen[0]))),
    },
  ]
}

const whileWriting = (id: string, shown: string, key: string | undefined, run: () => void, otherKey?: string): Act => ({
  id,
  group: "write",
  words: shown,
  ...(key === undefined ? {} : { key }),
  ...(otherKey === undefined ? {} : { otherKey }),
  mode: "writing",
  run,
})

function signActs(pen: Pen): Act[] {
  const w = words.writing
  const put = (sign: writing.NewSign): void => {
    const { spot } = pen
    if (spot)
      pen.make(writing.writeSign(pen.page, spot, sign, pen.writing.over), w.written(w.signs[sign.kind] ?? sign.kind))
  }
  const clef = (shape: "C" | "F" | "G", line: number): Act =>
    whileWriting(`clef-${shape}`, w.clef(shape), undefined, () => put({ kind: "clef", shape, line }))
  const sign = (
    id: string,
    shown: string,
    key: string | undefined,
    made: Omit<Extract<Sign, { kind: "mensuration" }>, "id" | "kind">,
  ): Act => whileWriting(id, w.mensuration(shown), key, () => put({ kind: "mensuration", ...made }))
  return [
    ...STEPS.map(step =>
      whileWriting(`note-${step}`, w.note(step), step, () => {
        const { spot, writing: now } = pen
        if (spot) pen.make(writing.writeNote(pen.page, spot, step, now.level, now.over), w.written(w.signs["note"]!))
      }),
    ),
    ...LEVELS.map((level, i) =>
      whileWriting(`level-${level}`, w.levelOf(w.levels[level]), String(i + 1), () => pen.set({ level })),
    ),
    whileWriting("rest", w.rest, "r", () => {
      const { spot, writing: now } = pen
      if (spot) pen.make(writing.writeRest(pen.page, spot, now.level, now.over), w.written(w.signs["rest"]!))
    }),
    whileWriting("dot", w.dot, ".", () => {
      const last = pen.chosen.at(-1)
      if (last !== undefined) pen.make(writing.turnDot(pen.page, last), w.turned(w.dot, pen.placeOf(last)))
    }),
    sign("sign-O", "O", "Shift+O", { sign: "O" }),
    sign("sign-O-dot", "O·", undefined, { sign: "O", dots: 1 }),
    sign("sign-C", "C", "Shift+C", { sign: "C" }),
    sign("sign-C-dot", "C·", undefined, { sign: "C", dots: 1 }),
    sign("sign-C-cut", "C|", undefined, { sign: "C", strokes: 1 }),
    sign("sign-O-cut", "O|", undefined, { sign: "O", strokes: 1 }),
    clef("C", 3),
    clef("F", 3),
    clef("G", 2),
    whileWriting("signature", w.signature, undefined, () =>
      put({ kind: "signature", accidentals: [{ step: "b", accidental: "f" }] }),
    ),
    whileWriting("line-end", w.lineEnd, "Enter", () => put({ kind: "break", of: "line" })),
    whileWriting("finis", w.finis, undefined, () => put({ kind: "stroke", form: "finis-punctorum" })),
    whileWriting("signum", w.signum, undefined, () => put({ kind: "mark", of: "signum-congruentiae" })),
  ]
}

function alteringActs(pen: Pen): Act[] {
  const w = words.writing
  const alter = (
    id: string,
    shown: string,
    key: string,
    alterIn: (page: Page, ids: readonly SignId[]) => writing.Gesture | undefined,
    otherKey?: string,
  ): Act =>
    whileWriting(
      id,
      shown,
      key,
      () => pen.make(alterIn(pen.page, pen.chosen), w.turned(shown, pen.placeOf(pen.chosen[0])), id),
      otherKey,
    )
  return [
    alter("higher", w.higher, "ArrowUp", (page, ids) => writing.movePitch(page, ids, 1)),
    alter("lower", w.lower, "ArrowDown", (page, ids) => writing.movePitch(page, ids, -1)),
    alter("octave-higher", w.octaveHigher, "Shift+ArrowUp", (page, ids) => writing.movePitch(page, ids, 7)),
    alter("octave-lower", w.octaveLower, "Shift+ArrowDown", (page, ids) => writing.movePitch(page, ids, -7)),
    alter("this-level", w.thisLevel, "v", (page, ids) => writing.setLevel(page, ids, pen.writing.level)),
    alter("accidental", w.accidental, "i", writing.turnAccidental),
    alter("stem", w.stem, "s", writing.turnStem),
    alter("plica", w.plica, "p", writing.turnPlica),
    alter("colour", w.colour, "k", writing.turnColour),
    whileWriting("bind", w.bind, "l", () => bindOrReshape(pen)),
    whileWriting("unbind", w.unbind, "u", () => {
      const [first] = pen.chosen
      if (first !== undefined)
        pen.make(
          writing.unbind(pen.page, first, note => pen.levelRead(note)),
          w.turned(w.unbind, pen.placeOf(first)),
        )
    }),
    whileWriting("over", w.over, "Insert", () => pen.set({ over: !pen.writing.over })),
  ]
}

/** Notes that are loose are bound; a ligature gets the next shape. */
function bindOrReshape(pen: Pen): void {
  const { page, chosen } = pen
  const w = words.writing
  const [first] = chosen
  const voice = first && voiceOf(page, first)
  const ligature = voice && flatOf(voice).find(({ sign }) => sign.id === first)?.ligature
  if (!ligature) {
    const bound = writing.bind(page, chosen)
    return bound ? pen.make(bound, w.turned(w.bind, pen.placeOf(first))) : view.setState({ said: w.notBound })
  }
  const now = writing.shapeOf(ligature)
  // of two notes the first two are the last two
  const isShort = ligature.members.filter(({ kind }) => kind === "note").length === 2
  const shapes = writing.LIGATURE_SHAPES.filter(({ oblique }) => !isShort || oblique !== "last")
  const at = shapes.findIndex(({ stem, oblique }) => stem === now.stem && oblique === now.oblique)
  const next = shapes[(at + 1) % shapes.length]!
  pen.make(writing.reshape(page, ligature.id, next), w.turned(w.reshape, pen.placeOf(first)), "reshape")
}

function movingActs(pen: Pen): Act[] {
  const w = words.writing
  const extend = (by: 1 | -1): void => {
    const { selected, anchor } = view.getState()
    const next = along(pen.page, selected, by)
    if (selected === undefined || next === undefined) return
    select(next)
    view.setState({ anchor: anchor ?? selected })
  }
  const toVoice = (by: 1 | -1): void => {
    const { voices } = pen.page
    const at = voices.findIndex(({ id }) => id === pen.spot?.voice) + by
    const voice = voices[at]
    if (!voice) return
    select(flatOf(voice).at(-1)?.sign.id)
    pen.set({ voice: voice.id })
  }
  return [
    { id: "extend-after", group: "write", words: w.extendAfter, key: "Shift+ArrowRight", run: () => extend(1) },
    { id: "extend-before", group: "write", words: w.extendBefore, key: "Shift+ArrowLeft", run: () => extend(-1) },
    whileWriting("voice-below", w.voiceBelow, "PageDown", () => toVoice(1)),
    whileWriting("voice-above", w.voiceAbove, "PageUp", () => toVoice(-1)),
  ]
}

function copyingActs(pen: Pen): Act[] {
  const w = words.writing
  // words that are selected in the window are copied as words
  const none = (): boolean => pen.chosen.length === 0 || getSelection()?.isCollapsed === false
  const copy = (): void => {
    pen.copies = writing.wholeSigns(pen.page, pen.chosen)
    view.setState({ said: w.copied(pen.copies.length) })
  }
  return [
    { id: "copy", group: "write", words: w.copy, key: "Ctrl+c", isOff: none, run: copy },
    {
      id: "cut",
      group: "write",
      words: w.cut,
      key: "Ctrl+x",
      isOff: none,
      run: () => {
        copy()
        pen.make(
          writing.takeAway(
            pen.page,
            pen.copies.flatMap(sign => (sign.kind === "ligature" ? sign.members.map(({ id }) => id) : sign.id)),
          ),
          words.steps.takenAway(pen.placeOf(pen.chosen[0])),
        )
      },
    },
    {
      id: "paste",
      group: "write",
      words: w.paste,
      key: "Ctrl+v",
      isOff: () => pen.copies.length === 0 || pen.spot === undefined,
      run: () => pen.make(writing.paste(pen.page, pen.spot!, pen.copies), w.pasted(pen.copies.length)),
    },
  ]
}
