/** Which rules can speak of a figure at all: sorted out once by its kind, so that a note costs few calls. */
import { MAXIMA, type Mensuration, type Practice, type Rule, type Settings } from "../practices/index.js"
import type { DraftFigure } from "./draft-figure.js"

export class RuleTable {
  private readonly proposing: readonly Rule[]
  readonly divides: boolean
  private readonly byKind = new Map<number, readonly Rule[]>()
  // a figure is asked about at several places in turn
  private asked: DraftFigure | undefined
  private kind = 0

  constructor(practice: Practice) {
    this.proposing = practice.rules.filter(rule => rule.propose !== undefined)
    this.divides = practice.rules.some(rule => rule.id === "punctus-divisionis")
  }

  /** The rules to ask about the figure; `inside`: it does not stand at the beginning of its perfection. */
  for(figure: DraftFigure, mensuration: Mensuration, inside: boolean): readonly Rule[] {
    if (figure !== this.asked) {
      this.asked = figure
      this.kind = kindOf(figure, mensuration)
    }
    const kind = inside ? this.kind | INSIDE : this.kind
    let rules = this.byKind.get(kind)
    if (rules === undefined)
      this.byKind.set(kind, (rules = this.proposing.filter(rule => speaks(rule, figure, mensuration, inside))))
    return rules
  }
}

function speaks(rule: Rule, figure: DraftFigure, mensuration: Mensuration, inside: boolean): boolean {
  if (rule.at === (inside ? "start" : "inside")) return false
  return rule.appliesTo === undefined || rule.appliesTo(figure, mensuration)
}

const INSIDE = 1024

/** All that `appliesTo` may depend on, as bits. */
function kindOf(f: DraftFigure, m: Mensuration): number {
  return (
    f.level |
    (f.rest ? 8 : 0) |
    (f.dot !== undefined ? 16 : 0) |
    (f.stroke !== undefined && f.strokeGroup !== true ? 32 : 0) |
    (f.colouredTicks !== undefined ? 64 : 0) |
    (f.localShape ? 128 : 0) |
    (m.anchor[f.level]! > 0 ? 256 : 0) |
    (f.level === MAXIMA && f.duplex ? 512 : 0)
  )
}

/** Options by which some offer is cheaper than nothing, and by how much at the most. */
const DISCOUNTS = new Set(["tractatus-c1275", "stretch", "whole-by-alteration"])
const DISCOUNT = 10
/** How far beyond the beam a way must still be asked, since an offer may make it cheaper than it is. */
export const slackOf = (settings: Settings): number =>
  Object.values(settings).some(v => DISCOUNTS.has(v)) ? DISCOUNT : 0
