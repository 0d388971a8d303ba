/** What each value of an option of the Ars antiqua means, and who says so: the options that all practices share among them. */
import type { ValuesTold } from "./types.js"

const AS_CODIFIED = "Ars cantus mensurabilis, c. 1280"
const REGULE = "Regule cum maximis, 1326"
const SUMMA = "Summa de speculatione musicae, c. 1300"
const TRACTATUS = "Tractatus de musica, c. 1275"
const MENSURATA = "De musica mensurata, 1279"
const LIBELLUS = "Libellus cantus mensurabilis, c. 1340"
const PRACTICA = "Practica musicae, 1496"
const POMERIUM = "Pomerium, 1318-19"

const countedBy = (units: string, larger: string): ValuesTold => ({
  "first-imperfect": [`the first of more than three always shortens the ${larger} before them`, `${AS_CODIFIED}, V`],
  "by-threes": [
    `one ${units} left over shortens the ${larger} before, of two left over the last is altered, if none is all stay whole`,
    `${LIBELLUS}, 3`,
  ],
  "practica-1496": [
    `the same, but of four and more the one left over rather shortens the ${larger} after them`,
    `${PRACTICA}, II.11`,
  ],
})

export const ARS_ANTIQUA_VALUES: Readonly<Record<string, ValuesTold>> = {
  "groupRule.modus": countedBy("breve", "long"),
  "groupRule.tempus": countedBy("semibreve", "breve"),
  "groupRule.prolatio": countedBy("minim", "semibreve"),
  breveDivision: {
    infer: ["the groups that the page marks tell which of the others it is", "inference"],
    "two-or-three": ["a breve holds two semibreves or three, never more", `${AS_CODIFIED}, V`],
    equal: ["four to nine on a breve are of one length", "Speculum musicae, c. 1325, VII.17"],
    "via-naturae": ["the last of them are the longest, in twelfths of the breve", `${POMERIUM}, I.2`],
    ninths: ["short and long by turns, in ninths of the breve", `${POMERIUM}, on the novenary division; ${REGULE}, IV`],
    "minutae-last": [
      "semibreves of a third come first, the short ones at the end, in ninths",
      `${SUMMA}, VI.1; ${REGULE}, IV`,
    ],
  },
  minutae: {
    "minima-minorata": ["the first of the two holds one ninth, the second two", `${REGULE}, IV`],
    equal: ["each of the two holds a sixth", `${SUMMA}, VI.1`],
  },
  pairOrder: {
    "minor-maior": ["the lesser first: a third, then two thirds of the breve", `${AS_CODIFIED}, V; ${REGULE}, IV.1`],
    "maior-minor": [
      "the greater first: two thirds, then a third",
      `${TRACTATUS}, which allows either order; Ars nova, c. 1320, for its own day`,
    ],
    equal: ["both alike: half a breve each", "Regulae super discantum, c. 1275"],
  },
  undividedSix: {
    pairs: ["three breves of two semibreves each", `${REGULE}, IV.3-5`],
    threes: ["two breves of three semibreves each", "inference: semibreves judged as breves are"],
  },
  pairForAltera: {
    forbid: ["two semibreves hold one breve, and no more", `${AS_CODIFIED}, V`],
    stretch: ["two semibreves may be stretched over the two breves of an altera", TRACTATUS],
  },
  sixSemibrevesAsAltera: {
    true: ["six of them may be one altered breve", `${AS_CODIFIED}, V`],
    false: ["six of them are always counted as breves of their own", "inference"],
  },
  alterWithoutDot: {
    true: ["the last of them is altered where the count asks for it", `${AS_CODIFIED}, V`],
    false: ["it is altered only where a dot sets the last two apart", `${SUMMA}, VI.4`],
  },
  duplexImperfectible: {
    false: ["it holds six tempora whatever stands beside it", `${AS_CODIFIED}, IV; ${TRACTATUS}`],
    true: ["it holds six, or five beside a breve", `De mensuris et discantu, c. 1275, II; ${REGULE}, V.3`],
  },
  restMayStandAsRecta: {
    true: ["a breve rest counts as the first of two, and the breve after it is altered", REGULE],
    false: ["only a note can be the first of two", "inference"],
  },
  bareRisingOblique: {
    "as-ascending": ["its first note is a breve, as in any ligature that rises", `${AS_CODIFIED}, VII`],
    "as-descending": ["its first note is a long, whichever way the stroke leans", REGULE],
  },
  plica: {
    none: ["the second tone is sung out of the note's time; how much of it is left open", "inference"],
    "mensurata-1279": ["one breve of a long, two thirds of a recta breve", MENSURATA],
    "tractatus-c1275": ["one breve of a long, half of a recta breve", TRACTATUS],
    "regule-1326": ["a third of a breve of a long or an altera, two ninths of a recta", REGULE],
    handbook: ["a third of a perfect note, half of an imperfect one", "common practice (from memory)"],
  },
  restSystem: {
    "acm-1280": [
      "three spaces are a perfect long, two an imperfect, one a breve; parts of a space are semibreves",
      `${AS_CODIFIED}, IX`,
    ],
    "tractatus-c1275": [
      "four spaces three breves, three two, two one; one space two thirds, half a third",
      `${TRACTATUS}, p. 278`,
    ],
    "mensurata-1279": ["as of c. 1280; half a space stands for either semibreve", MENSURATA],
    "regulae-c1275": [
      "as of c. 1280, but what is longer than three spaces is still measured: a perfect long",
      "Regulae super discantum, c. 1275",
    ],
    "dmm-1250": ["whole spaces as of c. 1280; half a space is a third of a breve", "De mensurabili musica, c. 1240-60"],
    "dmd-c1275": ["whole spaces as of c. 1280; half a space is a third of a breve", "De mensuris et discantu, c. 1275"],
    "summa-c1300": ["as of c. 1280; a stroke through all lines ends the section", SUMMA],
  },
  halfSpaceRest: {
    maior: ["it holds two thirds of a breve", `${MENSURATA}, which allows both`],
    minor: ["it holds a third of a breve", `${MENSURATA}, which allows both`],
  },
  suspiriumPlacement: {
    ignore: ["the stroke stands midway and tells nothing by its place", `${MENSURATA}, III`],
    "tractatus-c1275": ["the long that it stands closer to gives it its time", `${TRACTATUS}, p. 281`],
  },
  finisPenultimate: {
    flag: ["it is counted as any other, and marked as held", "inference"],
    hold: ["it is held beyond its count", `${AS_CODIFIED}, IX`],
  },
  terminology: {
    codified: ["a perfect long of three, an imperfect of two", `${AS_CODIFIED}, IV`],
    older: [
      "a recta long of two, and the long of three is beyond measure; the altera is a greater breve",
      "De mensurabili musica, c. 1240-60",
    ],
  },
  alterBeforeWall: {
    true: ["it is altered, as it would be before a larger note", `${AS_CODIFIED}, V (inference)`],
    false: ["a dot or stroke of division keeps it from being altered", `${LIBELLUS}, 4`],
  },
  alterBeforeRemoteLarger: {
    modus: ["only breves are, before a note of two sizes more", "common practice of editors of motets, counted"],
    false: ["none is: what follows must be the next larger note", `${LIBELLUS}, 4`],
    true: ["notes of every level are", "Tractatus alterationum, 1470s, 3, reports it"],
  },
  alteredMayBeImperfected: {
    true: ["it may lose a part to what stands before it, never as much as its own value", `${LIBELLUS}, 4`],
    false: ["it keeps all of its doubled value", `${PRACTICA}, II.13`],
  },
  likeProtectsParts: {
    true: ["a note before its like keeps its parts as well as its whole", `${PRACTICA}, II.11`],
    false: [
      "it is safe as a whole, but its parts may be lost",
      "Tractatus practice de musica mensurabili, 1408, rule 2",
    ],
  },
}
