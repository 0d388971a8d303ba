/** Mensuration signs, proportions and the letters of the divisiones, in staff spaces. */
import type { MensurationSign, Proportion } from "../../page/index.js"
import type { Mark, Path } from "../scene/scene.js"
import { textWidth } from "../text/width.js"
import { drawn, inked, yOf, type Drawn, type SignStyle } from "./drawn.js"
import { drawLevels } from "./others.js"
import { circleOutline, moved, rectOutline, reversed, straightStroke } from "./outline.js"

/** Middle of the pen's line; its width swells where the pen, held slanting, goes down. */
const RADIUS = 0.92
const LIGHT = 0.13
const HEAVY = 0.2

/** A circle drawn with a broad pen: heavy at the sides, light above and below. */
const CIRCLE: Path = [
  ...circleOutline(0, 0, RADIUS + HEAVY / 2, RADIUS + LIGHT / 2),
  ...reversed(circleOutline(0, 0, RADIUS - HEAVY / 2, RADIUS - LIGHT / 2)),
]

/** From the middle to the tips of a half circle. */
const OPENING = 0.62

/** A circle that stops short of its right side by some 50 degrees above and below, ending broad above. */
const HALF_CIRCLE: Path = halfCircle()
function halfCircle(): Path {
  const [outer, inner] = [RADIUS + HEAVY / 2, RADIUS - HEAVY / 2]
  const [x, y] = [OPENING, 0.72]
  return reversed([
    ["M", x, -y - 0.08],
    ["C", 0.4, -1.02, 0.2, -(RADIUS + LIGHT / 2), 0, -(RADIUS + LIGHT / 2)],
    ["C", -outer * 0.5523, -(RADIUS + LIGHT / 2), -outer, -RADIUS * 0.58, -outer, 0],
    ["C", -outer, RADIUS * 0.58, -outer * 0.5523, RADIUS + LIGHT / 2, 0, RADIUS + LIGHT / 2],
    ["C", 0.26, RADIUS + LIGHT / 2, 0.48, 0.9, x, y + 0.04],
    ["L", x - 0.06, y - 0.06],
    ["C", 0.42, 0.78, 0.22, RADIUS - LIGHT / 2, 0, RADIUS - LIGHT / 2],
    ["C", -inner * 0.5523, RADIUS - LIGHT / 2, -inner, RADIUS * 0.5, -inner, 0],
    ["C", -inner, -RADIUS * 0.5, -inner * 0.5523, -(RADIUS - LIGHT / 2), 0, -(RADIUS - LIGHT / 2)],
    ["C", 0.18, -(RADIUS - LIGHT / 2), 0.34, -0.74, x - 0.12, -y + 0.16],
    ["Z"],
  ])
}

/** Where one, two or three dots stand inside. */
const DOTS: Readonly<Record<number, readonly (readonly [number, number])[]>> = {
  1: [[0, 0]],
  2: [
    [-0.3, 0],
    [0.3, 0],
  ],
  3: [
    [0, -0.34],
    [-0.32, 0.2],
    [0.32, 0.2],
  ],
}
const DOT_RADIUS = { 1: 0.2, 2: 0.18, 3: 0.17 } as Readonly<Record<number, number>>

/** The sign, its figures and its letter. A mensuration that only states levels in words has nothing to be drawn. */
export function drawMensuration(sign: MensurationSign, style: SignStyle): Drawn {
  const y = yOf(style.lines - 1)
  const marks: Mark[] = []
  if (sign.sign !== undefined) marks.push(inked("mensuration", signPath(sign, y)))
  else marks.push(...boxMarks(sign, y))
  const after = marks.length > 0 ? endOf(sign) + 0.3 : 0
  const figures = figuresOf(sign)
  if (figures) marks.push(...figureMarks(figures, after, y))
  if (sign.letter !== undefined) marks.push(letterMark(sign.letter, after, y))
  return marks.length === 0 ? drawLevels(sign, style) : drawn(marks)
}

/** Where figures may begin behind it: an open half circle ends earlier than a whole one. */
const endOf = ({ sign, reversed: back, orientation }: MensurationSign): number =>
  RADIUS + HEAVY / 2 + (sign === "C" && !back && orientation === undefined ? OPENING : RADIUS + HEAVY / 2)

/**
 * The quadrangle with two or three strokes in it, upright for the modus, lying for the tempus: named as in SMuFL 1.4
 * ("mensuralModusPerfectumVert" …).
 */
function boxMarks({ shape }: MensurationSign, y: number): Mark[] {
  const named = /^mensural(Modus|Tempus)(Perfectum|Imperfectum)(Vert|Horiz)$/.exec(shape ?? "")
  if (!named) return []
  const strokes = named[2] === "Perfectum" ? 3 : 2
  const inside = Array.from({ length: strokes }, (_, i) => {
    const at = ((i + 1) / (strokes + 1)) * 2 * BOX - BOX
    return named[3] === "Vert"
      ? straightStroke(BOX + at, y + BOX * 0.9, BOX + at, y - BOX * 0.9, 0.13, 0.13)
      : straightStroke(BOX * 0.1, y + at, BOX * 1.9, y + at, 0.13, 0.13)
  }).flat()
  const frame = [
    ...rectOutline(0, y - BOX, 2 * BOX, y + BOX),
    ...reversed(rectOutline(0.13, y - BOX + 0.1, 2 * BOX - 0.13, y + BOX - 0.1)),
  ]
  return [inked("mensuration", [...frame, ...inside])]
}
/** Half of its side. */
const BOX = 0.9

function figuresOf({ figures, sign, num, numbase }: MensurationSign): readonly number[] | undefined {
  if (figures && figures.length > 0) return figures
  // MEI's num and numbase on a sign are figures that stand behind it
  return sign !== undefined && num !== undefined ? (numbase === undefined ? [num] : [num, numbase]) : undefined
}

function signPath({ sign, dots = 0, strokes = 0, reversed: back, orientation }: MensurationSign, y: number): Path {
  const arc = sign === "O" ? CIRCLE : back ? moved(HALF_CIRCLE, 0, 0, -1, 1) : HALF_CIRCLE
  const turned = orientation === undefined ? arc : quarterTurned(arc, orientation === "90CW")
  const inside = (DOTS[Math.min(3, dots)] ?? []).flatMap(([dx, dy]) =>
    circleOutline(dx, dy, DOT_RADIUS[Math.min(3, dots)]!),
  )
  const through = Array.from({ length: Math.min(4, strokes) }, (_, i) => {
    const x = (i - (Math.min(4, strokes) - 1) / 2) * 0.4
    return straightStroke(x, 1.55, x, -1.55, 0.13, 0.13)
  }).flat()
  return moved([...turned, ...inside, ...through], RADIUS + HEAVY / 2, y)
}

/** By a quarter, clockwise or against it. */
function quarterTurned(path: Path, clockwise: boolean): Path {
  const turn = clockwise ? 1 : -1
  return path.map(step => {
    const out: (string | number)[] = [step[0]]
    for (let i = 1; i < step.length; i += 2) out.push(-turn * (step[i + 1] as number), turn * (step[i] as number))
    return out as unknown as Path[number]
  })
}

const FIGURE = { family: "words", size: 1.9, weight: 700 } as const
/** Lining figures: the words' own are old-style and would swim between the lines. */
const NUMERAL = { family: "figures", size: 2.1, weight: 600 } as const
const NUMERAL_HEIGHT = 0.66 * NUMERAL.size

/** One figure, or one over the other, middle on y. */
function figureMarks(figures: readonly number[], x: number, y: number): Mark[] {
  const texts = figures.slice(0, 2).map(String)
  const width = Math.max(...texts.map(text => textWidth(text, NUMERAL)))
  const feet = texts.length === 1 ? [y + NUMERAL_HEIGHT / 2] : [y - 0.12, y + 0.12 + NUMERAL_HEIGHT]
  return texts.map((text, i) => ({
    shape: "text",
    part: "figure",
    x: x + width / 2,
    y: feet[i]!,
    text,
    type: NUMERAL,
    anchor: "middle",
    length: textWidth(text, NUMERAL),
    fill: "ink",
  }))
}

function letterMark(letter: string, x: number, y: number): Mark {
  const text = `.${letter}.`
  return {
    shape: "text",
    part: "divisio",
    x,
    y: y + 0.42,
    text,
    type: FIGURE,
    length: textWidth(text, FIGURE),
    fill: "ink",
  }
}

export function drawProportion({ num, numbase }: Proportion, { lines }: SignStyle): Drawn {
  return drawn(figureMarks(numbase === undefined ? [num] : [num, numbase], 0, yOf(lines - 1)))
}
