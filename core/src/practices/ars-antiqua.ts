/** Ars antiqua, c. 1260-1320: longs and breves in perfections, semibreves in groups on the breve. */
import * as rule from "./rules.js"
import { breveDivided, loneSemibreve, pairOnBreve, tailMarksMaior, threeOnBreve } from "./groups.js"
import { arsAntiquaOptions } from "./options.js"
import { runAfter } from "./situation.js"
import * as from from "./sources.js"
import { LONGA, MAXIMA } from "./mensuration.js"
import type { Practice, Rule, Source, Weights } from "./types.js"

const weights: Weights = {
  open: 6.5,
  carryModus: 30,
  carry: 30,
  carryOn: 30,
  likeModus: 2.2,
  like: 2.2,
  part: 2,
  morePart: 2,
  splitUnit: 30,
  across: 30,
  restAcross: 30,
  transport: 30,
  strokeOpen: 5,
  endOpen: 0.4,
  softOpen: 0.8,
  dotAgainstTable: 30,
  signOpen: 2,
}

/** Option duplexImperfectible: a lone breve after it is taken from it (1 : 7 that it is not), so is the first of more (1 : 1.6). */
const WHOLE_BEFORE_ONE = 2
const SHORTENED_BY_NEXT = 0.5
/** Where a stroke stands closer to one long it says so itself, over any count: by the option that is the reader's word. */
const BY_PLACEMENT = -10

/** The double long holds two perfections; by option it gives one tempus to a breve beside it. */
function duplexLonga(...sources: Source[]): Rule {
  return {
    id: "duplex-longa",
    sources,
    appliesTo: f => f.level === MAXIMA && !f.rest,
    propose(s) {
      const f = s.figure
      if (f.level !== MAXIMA || f.rest || f.fixed !== undefined) return
      const alone = s.settings["duplexImperfectible"] === "true" && runAfter(s, LONGA).units === 1
      if (s.front === 0) s.offer(this.id, f.full, alone ? WHOLE_BEFORE_ONE : 0)
      if (s.settings["duplexImperfectible"] !== "true") return
      const unit = s.mensuration.full[LONGA + 1]!
      if (s.front === unit) s.offer(this.id, f.full - unit, 0, { front: unit })
      if (s.front === 0 && s.next !== undefined && s.next.level > LONGA && f.dot === undefined)
        s.offer(this.id, f.full - unit, SHORTENED_BY_NEXT, { back: unit })
    },
  }
}

/** Tractatus de musica, c. 1275: the stroke is taken from the long it stands closer to. */
function suspirium(...sources: Source[]): Rule {
  return {
    id: "suspirium",
    sources,
    propose(s) {
      const f = s.figure
      if (
        s.settings["suspiriumPlacement"] === "ignore" ||
        f.rest ||
        f.level !== LONGA ||
        s.mensuration.divisions[LONGA] !== 3
      )
        return
      const unit = s.mensuration.full[LONGA + 1]!
      if (s.front === 0 && s.next?.near === "previous") s.offer(this.id, f.full - unit, BY_PLACEMENT, { back: unit })
      if (s.front === unit && s.previous?.near === "next")
        s.offer(this.id, f.full - unit, BY_PLACEMENT, { front: unit })
    },
  }
}

const named = (id: string, ...sources: Source[]): Rule => ({ id, sources })

export const arsAntiqua: Practice = {
  name: "ars-antiqua",
  title: "Ars antiqua, c. 1260-1320",
  unit: "tempus",
  options: arsAntiquaOptions,
  weights,
  rules: [
    named("ligatura", from.arsCantus1280("VII"), from.arsCantus1280("X")),
    named("conjunctura", from.arsCantus1280("VIII")),
    named("plica", from.arsCantus1280("VI"), from.mensurata1279("on the plica")),
    rule.similisAnteSimilem(from.arsCantus1280("V"), from.discantus1250("I"), from.tractatus1275("on longs")),
    rule.punctusPerfectionis(from.arsCantus1280("V"), from.compendia1290("on the divisio")),
    rule.numberComplete(from.arsCantus1280("V"), from.tractatus1275("p. 271")),
    rule.nothingActs(from.arsCantus1280("V")),
    rule.imperfectioAPartePost(from.arsCantus1280("V"), from.tractatus1275("p. 271")),
    rule.imperfectioAParteAnte(from.arsCantus1280("V"), from.regule1326("III.1")),
    rule.alteratio(from.arsCantus1280("V"), from.summa1300("VI.4"), from.compendia1290("on breves")),
    named("punctus-divisionis", from.arsCantus1280("V"), from.regule1326("III.9")),
    named("breves-in-threes", from.compendia1290("on breves"), from.regule1326("III.10")),
    named("count-from-zero", from.arsCantus1280("V")),
    {
      ...named("closure", {
        treatise: "Common practice: every perfection is filled",
        place: "counting",
        mark: "inference",
      }),
    },
    duplexLonga(from.arsCantus1280("IV"), from.tractatus1275("p. 269"), from.regule1326("V.3")),
    suspirium(from.tractatus1275("p. 281")),
    pairOnBreve(from.arsCantus1280("V"), from.regule1326("IV.1"), from.summa1300("VI.1")),
    threeOnBreve(from.arsCantus1280("V")),
    tailMarksMaior(from.regule1326("IV.9")),
    breveDivided(
      from.speculum1325("VII.17"),
      from.pomerium1318("I.2"),
      from.regule1326("IV.8"),
      from.summa1300("VI.1"),
    ),
    named(
      "semibreves-undivided",
      from.compendia1290("on semibreves"),
      from.regule1326("IV.3-5"),
      from.editors("undivided runs"),
    ),
    named("semibreves-pro-altera", from.arsCantus1280("V"), from.tractatus1275("on semibreves")),
    loneSemibreve(from.arsCantus1280("V")),
    rule.pausaManet(from.arsCantus1280("IX")),
    named("finis-punctorum", from.arsCantus1280("IX")),
    rule.asWritten(from.arsCantus1280("IV")),
  ],
}
