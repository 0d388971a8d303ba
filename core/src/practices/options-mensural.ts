/** Options of the practices from the Ars nova on, with who says which. */
import { option } from "./option.js"
import type { OptionSpec } from "./types.js"

/** Options that Ars nova and white notation share; `d` are the defaults in which one differs. */
export const mensuralOptions = (d: Readonly<Record<string, string>>): OptionSpec[] =>
  [
    option(
      "remoteTwo",
      "both-to-preceding split",
      "two remote units between two larger notes",
      "Libellus, c. 1340, 3; Tractatus practice, 1408",
    ),
    option(
      "twoMinims",
      "parts whole-by-alteration",
      "two minims after a breve of nine",
      "Libellus, c. 1340, 3; Practica musicae, 1496, II.11",
    ),
    option(
      "remoteOverAlter",
      "false true",
      "two units before the next larger go to a remote larger before them",
      "Tractatus alterationum, 1470s, 4",
    ),
    option(
      "alterBeforeRemoteLarger",
      "false modus true",
      "alteration before a remote larger note",
      "Tractatus alterationum, 1470s, 3; counted in motets at the modus",
    ),
    option("alterBeforeWall", "false true", "alteration before a dot of division", "Libellus, c. 1340, 4"),
    option(
      "likeProtectsParts",
      "false true",
      "a note before its like keeps its parts too",
      "Tractatus practice, 1408; Practica musicae, 1496, II.11",
    ),
    option(
      "minimInMinorProlation",
      "false true",
      "a lone minim shortens a breve of perfect tempus and minor prolation",
      "reported and rejected: Libellus, c. 1340, 3",
    ),
    option(
      "alteredMayBeImperfected",
      "true false",
      "an altered note gives up a part to what precedes",
      "Libellus, c. 1340, 4; denied: Practica musicae, 1496, II.13",
    ),
    option(
      "pendingPolicy",
      "first-place complete-first",
      "where a carried unit goes",
      "Libellus, c. 1340, 3; Tractatus alterationum, 1470s, 1",
    ),
    option(
      "syncopateAcrossLargerRest",
      "false true",
      "a unit is carried past a rest larger than itself",
      "Libellus, c. 1340, 9; Practica musicae, 1496, II.15",
    ),
    option(
      "dotAfterMinim",
      "augmentation-allowed division-only",
      "whether a dot may lengthen a minim",
      "strict treatises c. 1340-1410",
    ),
    option(
      "dotOfAlteration",
      "false true",
      "a dot may mark the altered note",
      "A Plaine and Easie Introduction, 1597; De arte canendi, 1540, I.7",
    ),
    option("dottedRests", "false true", "a dot lengthens a rest", "common practice of the later 16th c."),
    option(
      "ligatureCompletesPerfection",
      "false true",
      "a ligated pair between two larger notes is always one and two",
      "Tractatus practice ad modum Ytalicorum, 1412",
    ),
    option(
      "minorColor",
      "dotted triplet",
      "a coloured pair in imperfect time",
      "De arte canendi, 1540, II.1; Dodecachordon, 1547, III.9",
    ),
    option(
      "isolatedBlack",
      "three-quarters half two-thirds",
      "a single coloured note in imperfect time",
      "De arte canendi, 1540; Practica musicae, 1496, II.11",
    ),
    option(
      "colourInImperfect",
      "threes late keep",
      "coloration where nothing is perfect: threes in the time of two; also pairs and single notes as taught later; or no change",
      "Proportionale musices, 1470s, I.6 (keep, for showing what belongs together); De arte canendi, 1540, II.1 (late)",
    ),
    option(
      "colourMap",
      "lose-a-third perfect-modus perfect-tempus perfect-prolatio modus-and-tempus tempus-and-prolatio keep",
      "what coloration means in this piece: a third less, another mensuration, or nothing that lasts otherwise",
      "Ars nova, c. 1320, 19",
    ),
    option(
      "dottedSignAgainstPlain",
      "minim-equality augmentation semibreve-equality",
      "a dotted sign in one voice only",
      "Proportionale musices, 1470s, III.2; Musica practica, 1482",
    ),
    option(
      "cutCircle",
      "2/1 faster 3/2",
      "the stroke through a circle",
      "Practica musicae, 1496, II.14; Proportionale, 1470s, I.3; Compendium, 1490, 13",
    ),
    option(
      "cutHalfCircle",
      "2/1 faster",
      "the stroke through a half circle",
      "Practica musicae, 1496, II.14; Dodecachordon, 1547, III.8",
    ),
    option("reversedC", "2/1 4/3", "the reversed half circle", "common practice, c. 1390-1450 against later"),
    option(
      "numeralSigns",
      "tempus-and-proportion modus-cum-tempore modus-maior-cum-tempore",
      "O2, C2, O3, C3",
      "Practica musicae, 1496, II.8; De preceptis, c. 1480; De arte canendi, 1540",
    ),
    option("loneThree", "3/2 3/1", "a single 3", "common practice of the 16th c."),
    option("proportionsCumulative", "true false", "successive fractions multiply", "Practica musicae, 1496, IV.5"),
    option(
      "threeImpliesPerfection",
      "true false",
      "a 3, alone or over 1, brings in perfect tempus",
      "De arte canendi, 1540, II.5 (3/1); complained of in Proportionale, 1470s, III.5",
    ),
    option(
      "obliqueAscendingInitial",
      "brevis longa",
      "first note of a stemless rising oblique",
      "Practica musicae, 1496, II.5; Tractatus de notis, 1470s, I.10",
    ),
    option(
      "longaInMiddle",
      "false true",
      "a stem on a middle note of a ligature makes a longa",
      "Practica musicae, 1496, II.5 calls it false",
    ),
    option(
      "maximaInMiddle",
      "true false",
      "a double-width middle note is a maxima",
      "Practica musicae, 1496, II.5; Tractatus practice, 1408 denies it",
    ),
    option(
      "widthNeedsStem",
      "false true",
      "a rising double-width note without stem is no maxima",
      "Tractatus practice, 1408",
    ),
    option(
      "modusRestCode",
      "threeTwo twoPlusOne",
      "longa rests as signs of modus",
      "Tractatus de regulari valore, 1470s; Practica musicae, 1496, II.7",
    ),
    option(
      "plica",
      "none handbook",
      "the plica's share: none, or a third of a perfect and half of an imperfect note",
      "common practice (from memory)",
    ),
  ].map(spec => (d[spec.name] === undefined ? spec : { ...spec, default: d[spec.name]! }))

/** Options of the early Ars nova. */
export const earlyOptions: OptionSpec[] = [
  option(
    "minims",
    "infer written unwritten",
    "whether minims are drawn, or plain semibreves stand for all shorter notes (c. 1315-25)",
    "common practice, c. 1315-25",
  ),
  option(
    "plainGroups",
    "equal via-naturae",
    "how plain semibreves share a breve",
    "counted in motets (equal); Pomerium, 1318-19",
  ),
]
