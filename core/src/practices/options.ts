/** Options of the Ars antiqua and those all practices share: what the theory leaves open, with who says which. */
import { option } from "./option.js"
import type { OptionSpec } from "./types.js"

const GROUPS = "first-imperfect by-threes practica-1496"
const WHO = "Ars cantus mensurabilis, c. 1280, V; Libellus, c. 1340, 3; Practica musicae, 1496, II.11"

/** How units between two larger notes are counted; `modus` and `rest` are the defaults. */
export const groupRule = (modus: string, rest: string): OptionSpec[] => [
  option("groupRule.modus", GROUPS, "how breves between two longs are counted when more than three", WHO, modus),
  option("groupRule.tempus", GROUPS, "the same for semibreves between breves", WHO, rest),
  option("groupRule.prolatio", GROUPS, "the same for minims between semibreves", WHO, rest),
]

export const arsAntiquaOptions: OptionSpec[] = [
  ...groupRule("first-imperfect", "by-threes"),
  option(
    "breveDivision",
    "infer two-or-three equal via-naturae ninths minutae-last",
    "how many semibreves a breve holds, and how it is shared out",
    "Speculum musicae, c. 1325, VII.17 (equal); Pomerium, 1318-19; Regule cum maximis, 1326; Summa, c. 1300",
  ),
  option(
    "minutae",
    "minima-minorata equal",
    "the two shortest of a divided breve: one and two ninths, or alike",
    "Regule cum maximis, 1326; Summa, c. 1300",
  ),
  option(
    "pairOrder",
    "minor-maior maior-minor equal",
    "order of two semibreves on a breve",
    "Ars cantus mensurabilis, c. 1280, V; Tractatus de musica, c. 1275; Regulae super discantum, c. 1275",
  ),
  option("undividedSix", "pairs threes", "six semibreves without a division", "Regule cum maximis, 1326, IV"),
  option(
    "pairForAltera",
    "forbid stretch",
    "two semibreves in the place of an altera",
    "Ars cantus mensurabilis, c. 1280, V; Tractatus de musica, c. 1275",
  ),
  option(
    "sixSemibrevesAsAltera",
    "true false",
    "six semibreves between a breve and a long stand for an altera",
    "Ars cantus mensurabilis, c. 1280, V",
  ),
  option(
    "alterWithoutDot",
    "true false",
    "at a start, the last of more than two breves is altered without a dot",
    "Gaudent brevitate, c. 1290; Summa, c. 1300, VI.4",
  ),
  option(
    "duplexImperfectible",
    "false true",
    "a double long beside a breve holds five",
    "De mensuris et discantu, c. 1275, II; Regule cum maximis, 1326, V",
  ),
  option(
    "restMayStandAsRecta",
    "true false",
    "a breve rest may be the first of a pair whose second is altered",
    "Regule cum maximis, 1326",
  ),
  option(
    "bareRisingOblique",
    "as-ascending as-descending",
    "a rising oblique of two notes follows the rising or the falling rule",
    "Ars cantus mensurabilis, c. 1280, VII; Regule cum maximis, 1326",
  ),
  option(
    "plica",
    "none mensurata-1279 tractatus-c1275 regule-1326 handbook",
    "the plica's share of its note's time",
    "De musica mensurata, 1279; Tractatus de musica, c. 1275; Regule cum maximis, 1326; common practice",
  ),
  option(
    "restSystem",
    "acm-1280 tractatus-c1275 mensurata-1279 regulae-c1275 dmm-1250 dmd-c1275 summa-c1300",
    "what a rest of each length is worth",
    "Ars cantus mensurabilis, c. 1280, IX, and the treatises named by the other choices",
  ),
  option("halfSpaceRest", "maior minor", "a rest of half a space", "De musica mensurata, 1279"),
  option(
    "suspiriumPlacement",
    "ignore tractatus-c1275",
    "a breve rest is taken from the long it stands closer to",
    "De musica mensurata, 1279, III; Tractatus de musica, c. 1275",
  ),
  option(
    "finisPenultimate",
    "flag hold",
    "the note before the last at a finis punctorum: counted and marked as held, or held",
    "Ars cantus mensurabilis, c. 1280, IX",
  ),
  option(
    "terminology",
    "codified older",
    "names of the values: of c. 1280, or of the older group",
    "De mensurabili musica, c. 1240-60",
  ),
  option(
    "alterBeforeWall",
    "true false",
    "the second of two breves before a stroke is altered",
    "Ars cantus mensurabilis, c. 1280, V (inference)",
  ),
  option(
    "alterBeforeRemoteLarger",
    "modus false true",
    "a breve is altered before a maxima",
    "Common practice of editors of motets, counted; Libellus, c. 1340, 4 denies it",
  ),
  option(
    "alteredMayBeImperfected",
    "false true",
    "an altered note gives up a part to what precedes",
    "Libellus, c. 1340, 4",
  ),
  option(
    "likeProtectsParts",
    "false true",
    "a note before its like keeps its parts too",
    "Practica musicae, 1496, II.11",
  ),
]

/** Other names under which the theory pages, or older practices, know an option. */
export const ALIASES: Readonly<Record<string, (value: string) => Record<string, string>>> = {
  manyBreves: value => ({ "groupRule.modus": value === "acm-1280" ? "first-imperfect" : value }),
  groupRule: value => {
    const named = { c1280: "first-imperfect", libellus: "by-threes", practica1496: "practica-1496" }[value] ?? value
    return { "groupRule.modus": named, "groupRule.tempus": named, "groupRule.prolatio": named }
  },
  fourRule: value => {
    const named = value === "ante-if-possible" ? "practica-1496" : "by-threes"
    return { "groupRule.modus": named, "groupRule.tempus": named, "groupRule.prolatio": named }
  },
}
