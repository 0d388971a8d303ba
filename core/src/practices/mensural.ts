/** Ars nova (c. 1315-1420) and white notation (c. 1430-1600): one body of rules, two sets of defaults. */
import { colourRule } from "./coloration.js"
import * as rule from "./rules.js"
import { viaArtis, viaNaturae } from "./groups.js"
import { earlyOptions, mensuralOptions } from "./options-mensural.js"
import { groupRule } from "./options.js"
import * as from from "./sources.js"
import type { Practice, Rule, Source, Weights } from "./types.js"

const named = (id: string, ...sources: Source[]): Rule => ({ id, sources })

/** A shape whose value holds in this piece only, as the page defines it. */
function localShape(...sources: Source[]): Rule {
  return {
    id: "local-shape",
    sources,
    appliesTo: f => f.localShape,
    propose(s) {
      if (s.figure.localShape && s.figure.fixed === undefined) s.offer(this.id, s.figure.full, 0, { free: true })
    },
  }
}

const sharedRules: Rule[] = [
  named("ligatura", from.libellus1340("8"), from.practica1496("II.5"), from.practice1412("on ligatures")),
  named("plica", from.handbook("plicas of the early 14th c.", "memory")),
  localShape(from.figurarum("3-6")),
  rule.similisAnteSimilem(
    from.libellus1340("3, rules 1-2"),
    from.imperfectionum1470("I.3, rule 5"),
    from.practice1408("rule 2"),
  ),
  rule.punctusPerfectionis(from.punctis1470("6-11"), from.practica1496("II.12"), from.libellus1340("5")),
  rule.numberComplete(from.libellus1340("3, rules 3-4"), from.practice1408("rules 10-13")),
  rule.nothingActs(from.libellus1340("3")),
  rule.imperfectioAPartePost(
    from.libellus1340("3, rules 4-5"),
    from.practice1408("rule 10"),
    from.imperfectionum1470("I.3"),
  ),
  rule.imperfectioAParteAnte(from.libellus1340("3, rules 4-5"), from.practice1408("rules 15-17")),
  rule.imperfectioAbUtraqueParte(from.libellus1340("3"), from.imperfectionum1470("I.3, rule 3")),
  rule.imperfectioAdPartem(from.libellus1340("3"), from.compendium1490("11"), from.practica1496("II.11")),
  rule.imperfectioAdTotumEtPartem(from.libellus1340("3"), from.imperfectionum1470("I.3, rule 7")),
  rule.alteratio(from.libellus1340("4"), from.alterationum1470("1-7"), from.practica1496("II.13")),
  rule.alteratioEtImperfectio(
    from.libellus1340("4"),
    from.imperfectionum1470("I.3, rule 13"),
    from.practice1412("rule 16"),
  ),
  named("punctus-divisionis", from.punctis1470("4-10"), from.libellus1340("5"), from.practica1496("II.12")),
  rule.punctusAdditionis(from.punctis1470("6-10"), from.practica1496("II.12")),
  rule.syncopatio(from.libellus1340("9"), from.practice1408("on syncopation"), from.practica1496("II.15")),
  colourRule("coloratio", from.libellus1340("6"), from.imperfectionum1470("II.11"), from.practice1408("on signs")),
  colourRule("semicoloratio", from.imperfectionum1470("II.11"), from.arteCanendi1540("II.2")),
  named("proportio", from.practica1496("IV"), from.proportionale1470("I.2")),
  named("closure", { treatise: "Common practice: every perfection is filled", place: "counting", mark: "inference" }),
  named("finis-punctorum", from.libellus1340("10"), from.modosIuris("on rests")),
  rule.pausaManet(from.libellus1340("10"), from.notisPausis1470("II"), from.practica1496("II.6")),
  rule.asWritten(from.valore1470("16-31")),
]

const weights: Weights = {
  open: 6.5,
  carryModus: 5.5,
  carry: 3.6,
  carryOn: 0.7,
  likeModus: 2.2,
  like: 7,
  part: 0.9,
  morePart: 0.9,
  splitUnit: 2.6,
  across: 2,
  restAcross: 3,
  transport: 3.4,
  strokeOpen: 4,
  endOpen: 1.4,
  softOpen: 0.8,
  dotAgainstTable: 3,
  signOpen: 2.5,
}

export const arsNova: Practice = {
  name: "ars-nova",
  title: "Ars nova, c. 1315-1420",
  unit: "minima",
  options: [
    ...groupRule("first-imperfect", "by-threes"),
    ...earlyOptions,
    ...mensuralOptions({ alterBeforeRemoteLarger: "modus", reversedC: "4/3" }),
  ],
  weights,
  rules: [
    ...sharedRules.slice(0, -2),
    colourRule("minor-color", from.arteCanendi1540("II.1"), from.dodecachordon1547("III.9")),
    colourRule("isolated-black", from.arteCanendi1540("II"), from.practica1496("II.11")),
    viaArtis(from.pomerium1318("I.2"), from.editors("groups with a downstem")),
    viaNaturae(from.pomerium1318("I.2, II.3"), from.editors("plain semibreves"), from.arsNova1320("24")),
    ...sharedRules.slice(-2),
  ],
}

export const white: Practice = {
  name: "white",
  title: "White notation, c. 1430-1600",
  unit: "minima",
  options: [
    ...groupRule("by-threes", "by-threes"),
    ...mensuralOptions({
      likeProtectsParts: "true",
      alteredMayBeImperfected: "false",
      syncopateAcrossLargerRest: "true",
      colourInImperfect: "late",
    }),
  ],
  weights,
  rules: [
    ...sharedRules.slice(0, -2),
    colourRule("minor-color", from.arteCanendi1540("II.1"), from.dodecachordon1547("III.9")),
    colourRule("isolated-black", from.arteCanendi1540("II"), from.practica1496("II.11")),
    colourRule("black-minims", from.proportionale1470("I.6"), from.practica1496("IV.5")),
    ...sharedRules.slice(-2),
  ],
}
