/** What of the marks of a drawing is the same wherever they stand, as bytes. */
import { writeBareData } from "./path-data.js"
import type { Item, Mark, Path, PathMark, Role, Stroking, TypeStyle } from "./scene.js"
import { bytesOf, TextBuffer } from "./text-buffer.js"
import type { Theme } from "./themes.js"
import { escape } from "./words.js"

/** Names after which a renderer looks, best first. */
export const FONT_FAMILIES = {
  words: "Alegreya, 'EB Garamond', Georgia, serif",
  figures: "'Source Sans 3', 'Noto Sans', Arial, sans-serif",
} as const

/** An outline but for the place of its first point. */
export interface Drawn {
  readonly scale: number
  readonly before: Uint8Array
  readonly after: Uint8Array
}

/** Outlines that always stand together: where the first point of each is, and what stands before and after that place. */
export interface Run {
  readonly scale: number
  readonly x: readonly number[]
  readonly y: readonly number[]
  readonly before: readonly Uint8Array[]
  /** Behind the last of them. */
  readonly end: Uint8Array
}

/** Class, fill and stroke as they are written: most marks of a part share them. */
interface Styled extends Pick<PathMark, "fill" | "opacity"> {
  stroke: Stroking | undefined
  readonly shape: Mark["shape"]
  readonly scale: number
  readonly whole: Uint8Array
  /** Without the class. */
  readonly paint: Uint8Array
}
/** So many ways in which the marks of one part look are kept. */
const MOST_STYLES = 12
const MOST_TYPES = 60

const styles = new WeakMap<Theme, SvgStyles>()

/** Those of a theme, kept from one drawing to the next. */
export function stylesOf(theme: Theme): SvgStyles {
  const known = styles.get(theme) ?? new SvgStyles(theme)
  styles.set(theme, known)
  return known
}

export class SvgStyles {
  readonly #theme: Theme
  readonly #classes = new Map<string, Uint8Array>()
  readonly #dataNames = new Map<string, Uint8Array>()
  readonly #styles = new Map<string, Styled[]>()
  readonly #types = new Map<string, Uint8Array>()
  readonly #ownTypes = new WeakMap<TypeStyle, { readonly scale: number; readonly attributes: Uint8Array }>()
  /** Null: it is none. */
  readonly #runs = new WeakMap<readonly Item[], Run | null>()
  readonly #out = new TextBuffer(false)

  constructor(theme: Theme) {
    this.#theme = theme
  }

  classOf(part: string): Uint8Array {
    let known = this.#classes.get(part)
    if (known === undefined) this.#classes.set(part, (known = bytesOf(` class="${part}"`)))
    return known
  }

  dataName(key: string): Uint8Array {
    let known = this.#dataNames.get(key)
    if (known === undefined) this.#dataNames.set(key, (known = bytesOf(` data-${escape(key)}="`)))
    return known
  }

  /** Whether anything of it is painted. */
  isSeen(fill: Role | undefined, stroke: Stroking | undefined): boolean {
    return this.#paints(fill) || (stroke !== undefined && this.#paints(stroke.role))
  }
  #paints(role: Role | undefined): boolean {
    return role !== undefined && (role !== "ground" || this.#theme.painted)
  }

  /** The content of a group, where all of it is outlines without signs of their own; from the third time on, in whatever drawing. */
  run(content: readonly Item[], scale: number): Run | undefined {
    const known = this.#runs.get(content)
    if (known?.scale === scale) return known
    if (known === null) return undefined
    if (known === undefined) this.#runs.set(content, this.#isRun(content) ? NO_RUN : null)
    else this.#runs.set(content, this.#runOf(content as readonly PathMark[], scale))
    return undefined
  }
  #isRun(content: readonly Item[]): boolean {
    return (
      content.length > 0 &&
      content.every(one => one.shape === "path" && isOften(one) && this.isSeen(one.fill, one.stroke))
    )
  }
  #runOf(content: readonly PathMark[], scale: number): Run {
    const pieces = content.map(mark => this.drawn(mark, scale))
    const out = this.#out
    const before = pieces.map((one, i) => {
      if (i > 0) out.bytes(pieces[i - 1]!.after)
      out.bytes(one.before)
      return out.cut(0)
    })
    const starts = content.map(({ path }) => path[0] as readonly ["M", number, number])
    const [x, y] = [starts.map(one => one[1] * scale), starts.map(one => one[2] * scale)]
    return { scale, x, y, before, end: pieces.at(-1)!.after }
  }

  /** One without a sign of its own. */
  drawn(mark: PathMark, scale: number): Drawn {
    const { whole } = this.styled(mark.part, "path", mark.fill, mark.stroke, mark.opacity, scale)
    const out = this.#out
    out.text("<path")
    out.bytes(whole)
    out.text(` d="M`)
    const before = out.cut(0)
    writeBareData(mark.path, scale, out)
    out.text(`"/>\n`)
    return { scale, before, after: out.cut(0) }
  }

  /** Its looks are told one by one: each writer knows well where its marks have them. */
  styled(
    part: string,
    shape: Mark["shape"],
    fill: Role | undefined,
    stroke: Stroking | undefined,
    opacity: number | undefined,
    scale: number,
  ): Styled {
    let known = this.#styles.get(part)
    if (known === undefined) this.#styles.set(part, (known = []))
    for (const one of known)
      if (one.stroke === stroke && one.fill === fill && one.scale === scale && one.shape === shape)
        if (one.opacity === opacity) return one
    for (const one of known)
      if (one.fill === fill && one.scale === scale && one.shape === shape && one.opacity === opacity)
        if (sameStroke(one.stroke, stroke)) {
          one.stroke = stroke
          return one
        }
    if (known.length >= MOST_STYLES) known.length = 0
    const paint = this.#paint(shape, fill, stroke, opacity, scale)
    const out = this.#out
    this.#plain(" class", part)
    out.bytes(paint)
    const styled = { shape, fill, stroke, opacity, scale, whole: out.cut(0), paint }
    known.push(styled)
    return styled
  }
  #paint(
    shape: Mark["shape"],
    fill: Role | undefined,
    stroke: Stroking | undefined,
    opacity: number | undefined,
    scale: number,
  ): Uint8Array {
    const out = this.#out
    if (this.#paints(fill)) this.#fill(fill!)
    else if (shape !== "line") out.text(` fill="none"`)
    if (stroke && this.#paints(stroke.role)) this.#stroke(stroke, scale)
    if (opacity !== undefined) this.#number(" opacity", opacity)
    return out.cut(0)
  }

  #fill(role: Role): void {
    const glaze = this.#theme.glazes?.[role]
    this.#plain(" fill", glaze?.colour ?? this.#theme.colours[role])
    if (glaze) this.#number(" fill-opacity", glaze.opacity)
  }

  #stroke({ role, width, dash, cap, join }: Stroking, scale: number): void {
    this.#plain(" stroke", this.#theme.colours[role])
    this.#number(" stroke-width", width * scale)
    if (dash) {
      this.#out.text(` stroke-dasharray="`)
      dash.forEach((one, i) => {
        if (i > 0) this.#out.text(" ")
        this.#out.number(one * scale)
      })
      this.#out.text(`"`)
    }
    if (cap) this.#plain(" stroke-linecap", cap)
    if (join) this.#plain(" stroke-linejoin", join)
  }

  typed(type: TypeStyle, scale: number): Uint8Array {
    const known = this.#ownTypes.get(type)
    if (known?.scale === scale) return known.attributes
    const attributes = this.#typed(type, scale)
    this.#ownTypes.set(type, { scale, attributes })
    return attributes
  }
  #typed({ family, size, weight = 400, italic = false }: TypeStyle, scale: number): Uint8Array {
    const key = `${family} ${size * scale} ${weight} ${italic}`
    const known = this.#types.get(key)
    if (known) return known
    this.#plain(" font-family", FONT_FAMILIES[family])
    this.#number(" font-size", size * scale)
    if (weight !== 400) this.#plain(" font-weight", String(weight))
    if (italic) this.#plain(" font-style", "italic")
    const attributes = this.#out.cut(0)
    if (this.#types.size >= MOST_TYPES) this.#types.clear()
    this.#types.set(key, attributes)
    return attributes
  }

  #plain(name: string, value: string): void {
    this.#out.text(`${name}="${value}"`)
  }
  #number(name: string, value: number): void {
    this.#out.text(`${name}="`)
    this.#out.number(value)
    this.#out.text(`"`)
  }
}

/** Met once: its scale is none. */
const NO_RUN: Run = { scale: NaN, x: [], y: [], before: [], end: new Uint8Array(0) }

/** What has strokes only is most often drawn once. */
export const isOften = ({ sign, stroke, path }: PathMark): boolean =>
  sign === undefined && stroke === undefined && startsOf(path)
const startsOf = (path: Path): boolean => path[0]?.[0] === "M"

const sameStroke = (one: Stroking | undefined, other: Stroking | undefined): boolean =>
  one !== undefined &&
  other !== undefined &&
  one.role === other.role &&
  one.width === other.width &&
  one.cap === other.cap &&
  one.join === other.join &&
  (one.dash === other.dash || String(one.dash) === String(other.dash))
