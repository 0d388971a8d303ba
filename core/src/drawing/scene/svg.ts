/**
 * A scene as SVG: presentation attributes only, no style sheet, no script. Positions of groups are reckoned in, so that every
 * number in the file is in px. The same scene gives the same text.
 */
import { textWidth } from "../text/width.js"
import { writeBareData, writeStrokes } from "./path-data.js"
import type {
  Group,
  Item,
  Mark,
  Path,
  PathMark,
  PolygonMark,
  Role,
  Scene,
  StrokesMark,
  Stroking,
  TextMark,
  TypeStyle,
} from "./scene.js"
import { bytesOf, TextBuffer } from "./text-buffer.js"
import { escape, FITS_AS_ID } from "./words.js"
import { LIGHT_THEME, type Theme } from "./themes.js"

export interface SvgOptions {
  readonly theme?: Theme
  /** Put before every id, so that several drawings can stand in one page. */
  readonly idPrefix?: string
  /** Width at which it is to be shown; the drawing's own without it. The numbers inside stay. */
  readonly shownWidth?: number
  /** The outline of a text in its own units, starting at 0, 0, when letters are to be drawn without their font. */
  readonly outline?: (text: TextMark) => Path | undefined
}

/** Names after which a renderer looks, best first. */
export const FONT_FAMILIES = {
  words: "Alegreya, 'EB Garamond', Georgia, serif",
  figures: "'Source Sans 3', 'Noto Sans', Arial, sans-serif",
} as const

/** One SVG document, ending with a line break. */
export function toSvg(scene: Scene, options: SvgOptions = {}): string {
  return new SvgWriter(options).document(scene)
}

/** Where the items' own 0, 0 stands, and how many px their unit is. */
export interface Placing {
  readonly x?: number
  readonly y?: number
  readonly scale?: number
}

/**
 * Items alone, without a document around them: for putting into a picture that is shown, so that only what changed is written
 * anew. A sign's id is data only, since there may be others in the page.
 */
export function svgOf(
  items: readonly Item[],
  { x = 0, y = 0, scale = 1 }: Placing = {},
  options: SvgOptions = {},
): string {
  return new SvgWriter(options, true).fragment(items, { x, y, scale })
}

/** What is written often, as bytes. The value of a number is closed by what follows it. */
const AS = {
  group: bytesOf("<g"),
  opened: bytesOf(">\n"),
  groupEnd: bytesOf("</g>\n"),
  path: bytesOf("<path"),
  outline: bytesOf(` d="M`),
  line: bytesOf("<line"),
  rect: bytesOf("<rect"),
  circle: bytesOf("<circle"),
  end: bytesOf(`"/>\n`),
  quote: bytesOf(`"`),
  x: bytesOf(` x="`),
  y: bytesOf(`" y="`),
  width: bytesOf(`" width="`),
  height: bytesOf(`" height="`),
  x1: bytesOf(` x1="`),
  y1: bytesOf(`" y1="`),
  x2: bytesOf(`" x2="`),
  y2: bytesOf(`" y2="`),
  cx: bytesOf(` cx="`),
  cy: bytesOf(`" cy="`),
  r: bytesOf(`" r="`),
  text: bytesOf(`<text x="`),
  length: bytesOf(` textLength="`),
  adjust: bytesOf(`" lengthAdjust="spacingAndGlyphs"`),
  close: bytesOf(">"),
  textEnd: bytesOf("</text>\n"),
  id: bytesOf(` id="`),
  sign: bytesOf(` data-sign="`),
} as const

/** What of an outline is the same wherever it stands. */
interface Drawn {
  readonly scale: number
  readonly before: Uint8Array
  readonly after: Uint8Array
}

/** Class, fill and stroke as they are written: most marks of a part share them. */
interface Styled extends Pick<PathMark, "fill" | "stroke" | "opacity"> {
  readonly shape: Mark["shape"]
  readonly scale: number
  readonly whole: Uint8Array
  /** Without the class. */
  readonly paint: Uint8Array
}
/** So many ways in which the marks of one part look are kept. */
const MOST_STYLES = 12

class SvgWriter {
  readonly #theme: Theme
  readonly #prefix: string
  readonly #outline: SvgOptions["outline"]
  readonly #shownWidth: number | undefined
  readonly #idless: boolean
  readonly #seen = new Set<string>()
  readonly #dataNames = new Map<string, Uint8Array>()
  readonly #classes = new Map<string, Uint8Array>()
  readonly #drawn = new Map<PathMark, Drawn>()
  readonly #met = new Set<PathMark>()
  readonly #styles = new Map<string, Styled[]>()
  readonly #types = new Map<TypeStyle, { readonly scale: number; readonly attributes: Uint8Array }>()
  readonly #out = new TextBuffer()

  constructor({ theme = LIGHT_THEME, idPrefix = "", outline, shownWidth }: SvgOptions, idless = false) {
    this.#idless = idless
    this.#theme = theme
    this.#prefix = idPrefix
    this.#outline = outline
    this.#shownWidth = shownWidth
  }

  fragment(items: readonly Item[], { x, y, scale }: Required<Placing>): string {
    for (const item of items) this.#item(item, x, y, scale)
    return this.#out.finish()
  }

  document({ width, height, title, description, language, content }: Scene): string {
    const out = this.#out
    const [t, d] = [this.#ownId("title"), this.#ownId("description")]
    const shown = (this.#shownWidth ?? width) / width
    out.text(`<svg xmlns="http://www.w3.org/2000/svg"`)
    this.#number(" width", width * shown)
    this.#number(" height", height * shown)
    out.text(` viewBox="0 0 `)
    out.number(width)
    out.text(" ")
    out.number(height)
    out.text(`" role="img" aria-labelledby="${t} ${d}"`)
    if (language !== undefined) out.text(` lang="${escape(language)}"`)
    out.text(`>\n<title id="${t}">${escape(title)}</title>\n<desc id="${d}">${escape(description)}</desc>\n`)
    if (this.#theme.painted) this.#ground(width, height)
    for (const item of content) this.#item(item, 0, 0, 1)
    out.text("</svg>\n")
    return out.finish()
  }

  #ground(width: number, height: number): void {
    this.#out.text(`<rect class="ground"`)
    this.#number(" width", width)
    this.#number(" height", height)
    this.#out.text(` fill="${this.#theme.colours.ground}"/>\n`)
  }

  #item(item: Item, x: number, y: number, scale: number): void {
    if (item.shape === "group") this.#group(item, x, y, scale)
    else if (item.shape === "path") this.#path(item, x, y, scale)
    else if (this.#isSeen(item)) this.#mark(item, x, y, scale)
  }

  #group(group: Group, x: number, y: number, scale: number): void {
    const innerX = x + (group.x ?? 0) * scale
    const innerY = y + (group.y ?? 0) * scale
    const innerScale = scale * (group.scale ?? 1)
    const bare = group.part === undefined && group.sign === undefined && group.data === undefined
    if (!bare) {
      this.#out.bytes(AS.group)
      if (group.part !== undefined) this.#out.bytes(this.#classOf(group.part))
      this.#signed(group.sign)
      if (group.data !== undefined) this.#data(group.data)
      this.#out.bytes(AS.opened)
    }
    for (const item of group.content) this.#item(item, innerX, innerY, innerScale)
    if (!bare) this.#out.bytes(AS.groupEnd)
  }

  #path(mark: PathMark, x: number, y: number, scale: number): void {
    const first = mark.path[0]
    if (first?.[0] !== "M" || !this.#isSeen(mark)) return
    const out = this.#out
    // signs are drawn from the same few outlines again and again; what has strokes only is most often drawn once
    const often = mark.sign === undefined && mark.stroke === undefined
    const drawn = often ? this.#drawnPath(mark, scale) : undefined
    if (drawn) out.bytes(drawn.before)
    else this.#openPath(mark, scale)
    this.#pair(x + first[1] * scale, y + first[2] * scale)
    if (drawn) out.bytes(drawn.after)
    else this.#closePath(mark, scale)
  }

  /** From the second time on. */
  #drawnPath(mark: PathMark, scale: number): Drawn | undefined {
    const known = this.#drawn.get(mark)
    if (known?.scale === scale) return known
    if (!this.#met.has(mark)) return void this.#met.add(mark)
    const { length } = this.#out
    this.#openPath(mark, scale)
    const before = this.#out.cut(length)
    this.#closePath(mark, scale)
    const drawn = { scale, before, after: this.#out.cut(length) }
    this.#drawn.set(mark, drawn)
    return drawn
  }
  #openPath(mark: PathMark, scale: number): void {
    this.#out.bytes(AS.path)
    this.#attributes(mark, scale)
    this.#out.bytes(AS.outline)
  }
  #closePath({ path }: PathMark, scale: number): void {
    writeBareData(path, scale, this.#out)
    this.#out.bytes(AS.end)
  }

  #mark(mark: Exclude<Mark, PathMark>, x: number, y: number, scale: number): void {
    switch (mark.shape) {
      case "line":
        this.#out.bytes(AS.line)
        this.#attributes(mark, scale)
        this.#numbered(AS.x1, x + mark.x1 * scale)
        this.#numbered(AS.y1, y + mark.y1 * scale)
        this.#numbered(AS.x2, x + mark.x2 * scale)
        this.#numbered(AS.y2, y + mark.y2 * scale)
        break
      case "rect":
        this.#out.bytes(AS.rect)
        this.#attributes(mark, scale)
        this.#numbered(AS.x, x + mark.x * scale)
        this.#numbered(AS.y, y + mark.y * scale)
        this.#numbered(AS.width, mark.width * scale)
        this.#numbered(AS.height, mark.height * scale)
        break
      case "circle":
        this.#out.bytes(AS.circle)
        this.#attributes(mark, scale)
        this.#numbered(AS.cx, x + mark.x * scale)
        this.#numbered(AS.cy, y + mark.y * scale)
        this.#numbered(AS.r, mark.radius * scale)
        break
      case "strokes":
        return this.#strokes(mark, x, y, scale)
      case "polygon":
        return this.#polygon(mark, x, y, scale)
      case "text":
        return this.#words(mark, x, y, scale)
    }
    this.#out.bytes(AS.end)
  }

  #strokes(mark: StrokesMark, x: number, y: number, scale: number): void {
    const { points } = mark
    if (points.length < 4) return
    this.#out.bytes(AS.path)
    this.#attributes(mark, scale)
    this.#out.bytes(AS.outline)
    this.#pair(x + points[0]! * scale, y + points[1]! * scale)
    writeStrokes(points, scale, this.#out)
    this.#out.bytes(AS.end)
  }

  #polygon(mark: PolygonMark, x: number, y: number, scale: number): void {
    this.#out.text(mark.open ? "<polyline" : "<polygon")
    this.#attributes(mark, scale)
    this.#out.text(` points="`)
    mark.points.forEach(([px, py], i) => {
      if (i > 0) this.#out.text(" ")
      this.#pair(x + px * scale, y + py * scale)
    })
    this.#out.bytes(AS.end)
  }

  #words(mark: TextMark, x: number, y: number, scale: number): void {
    const out = this.#out
    const outline = this.#outline?.(mark)
    if (outline) return this.#outlined(mark, outline, x, y, scale)
    const { text, type, anchor = "start" } = mark
    out.bytes(AS.text)
    out.number(x + mark.x * scale)
    this.#numbered(AS.y, y + mark.y * scale)
    out.bytes(AS.quote)
    out.bytes(this.#type(type, scale))
    if (anchor !== "start") this.#plain(" text-anchor", anchor)
    if (isLongerThanTwo(text)) {
      out.bytes(AS.length)
      out.number(lengthOf(mark) * scale)
      out.bytes(AS.adjust)
    }
    this.#attributes(mark, scale)
    out.bytes(AS.close)
    out.value(text)
    out.bytes(AS.textEnd)
  }

  #type(type: TypeStyle, scale: number): Uint8Array {
    const known = this.#types.get(type)
    if (known?.scale === scale) return known.attributes
    const { length } = this.#out
    this.#plain(" font-family", FONT_FAMILIES[type.family])
    this.#number(" font-size", type.size * scale)
    if (type.weight !== undefined && type.weight !== 400) this.#plain(" font-weight", String(type.weight))
    if (type.italic) this.#plain(" font-style", "italic")
    const attributes = this.#out.cut(length)
    this.#types.set(type, { scale, attributes })
    return attributes
  }

  #outlined(mark: TextMark, path: Path, x: number, y: number, scale: number): void {
    const width = lengthOf(mark)
    const back = { start: 0, middle: width / 2, end: width }[mark.anchor ?? "start"]
    this.#out.text("<path")
    this.#attributes(mark, scale)
    this.#attribute(` role="img" aria-label`, mark.text)
    const [first] = path
    this.#out.text(` d="`)
    if (first?.[0] === "M") {
      this.#out.text("M")
      this.#pair(x + (mark.x - back + first[1]) * scale, y + (mark.y + first[2]) * scale)
      writeBareData(path, scale, this.#out)
    }
    this.#out.bytes(AS.end)
  }

  /** Whether anything of it is painted. */
  #isSeen({ fill, stroke }: Mark): boolean {
    return this.#paints(fill) || (stroke !== undefined && this.#paints(stroke.role))
  }
  #paints(role: Role | undefined): boolean {
    return role !== undefined && (role !== "ground" || this.#theme.painted)
  }

  /** Class, sign, fill and stroke. */
  #attributes(mark: Mark, scale: number): void {
    const { whole, paint } = this.#styled(mark, scale)
    if (mark.sign === undefined) return this.#out.bytes(whole)
    this.#out.bytes(this.#classOf(mark.part))
    this.#signed(mark.sign)
    this.#out.bytes(paint)
  }

  #styled(mark: Mark, scale: number): Styled {
    const { part, shape, fill, stroke, opacity } = mark
    let known = this.#styles.get(part)
    if (known === undefined) this.#styles.set(part, (known = []))
    for (const one of known)
      if (one.stroke === stroke && one.fill === fill && one.scale === scale && one.shape === shape)
        if (one.opacity === opacity) return one
    if (known.length >= MOST_STYLES) known.length = 0
    const styled = { shape, fill, stroke, opacity, scale, ...this.#style(mark, scale) }
    known.push(styled)
    return styled
  }
  #style({ part, shape, fill, stroke, opacity }: Mark, scale: number): Pick<Styled, "whole" | "paint"> {
    const { length } = this.#out
    if (this.#paints(fill)) this.#plain(" fill", this.#theme.colours[fill!])
    else if (shape !== "line") this.#out.text(` fill="none"`)
    if (stroke && this.#paints(stroke.role)) this.#stroke(stroke, scale)
    if (opacity !== undefined) this.#number(" opacity", opacity)
    const paint = this.#out.cut(length)
    this.#plain(" class", part)
    this.#out.bytes(paint)
    return { whole: this.#out.cut(length), paint }
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

  #signed(sign: string | undefined): void {
    if (sign === undefined) return
    if (!this.#idless && !this.#seen.has(sign) && FITS_AS_ID.test(sign)) {
      this.#seen.add(sign)
      this.#out.bytes(AS.id)
      if (this.#prefix !== "") this.#out.value(this.#prefix)
      this.#out.value(sign)
      this.#out.bytes(AS.quote)
    }
    this.#out.bytes(AS.sign)
    this.#out.value(sign)
    this.#out.bytes(AS.quote)
  }

  #classOf(part: string): Uint8Array {
    let known = this.#classes.get(part)
    if (known === undefined) this.#classes.set(part, (known = bytesOf(` class="${part}"`)))
    return known
  }

  #data(data: Readonly<Record<string, string>>): void {
    for (const key in data) {
      let name = this.#dataNames.get(key)
      if (name === undefined) this.#dataNames.set(key, (name = bytesOf(` data-${escape(key)}="`)))
      this.#out.bytes(name)
      this.#out.value(data[key]!)
      this.#out.bytes(AS.quote)
    }
  }

  #ownId(name: string): string {
    this.#seen.add(name)
    return escape(this.#prefix + name)
  }

  /** A value from a file or a user. */
  #attribute(name: string, value: string): void {
    this.#out.text(name)
    this.#out.text(`="`)
    this.#out.value(value)
    this.#out.text(`"`)
  }
  /** A value of our own. */
  #plain(name: string, value: string): void {
    this.#out.text(name)
    this.#out.text(`="`)
    this.#out.text(value)
    this.#out.text(`"`)
  }
  /** After a value that is still open. */
  #numbered(name: Uint8Array, value: number): void {
    this.#out.bytes(name)
    this.#out.number(value)
  }
  #number(name: string, value: number): void {
    this.#out.text(name)
    this.#out.text(`="`)
    this.#out.number(value)
    this.#out.text(`"`)
  }
  #pair(x: number, y: number): void {
    this.#out.number(x)
    this.#out.text(",")
    this.#out.number(y)
  }
}

/** Letters are counted, not their halves. */
const isLongerThanTwo = (text: string): boolean => text.length > 4 || (text.length > 2 && [...text].length > 2)

const lengthOf = (mark: TextMark): number => mark.length ?? textWidth(mark.text, mark.type)
