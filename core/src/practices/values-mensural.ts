/** What each value of an option of the Ars nova and of white notation means, and who says so. */
import type { ValuesTold } from "./types.js"

const LIBELLUS = "Libellus cantus mensurabilis, c. 1340"
const PRACTICE_1408 = "Tractatus practice de musica mensurabili, 1408"
const PRACTICE_1412 = "Tractatus practice cantus mensurabilis ad modum Ytalicorum, revised 1412"
const ALTERATIONUM = "Tractatus alterationum, 1470s"
const PRACTICA = "Practica musicae, 1496"
const PROPORTIONALE = "Proportionale musices, 1470s"
const DODECACHORDON = "Dodecachordon, 1547"
const ARTE_CANENDI = "De arte canendi, 1540"
const ARS_NOVA = "Ars nova, c. 1320"
const NOT_TAUGHT = "inference: no treatise that was read teaches it"

const COUNTING: Readonly<Record<string, ValuesTold>> = {
  minims: {
    infer: ["the page tells: where stems are drawn they are meant", "inference"],
    written: ["minims have stems, and a semibreve without one is a semibreve", "common practice from c. 1325"],
    unwritten: ["plain semibreves stand for whatever shares a breve, minims among them", "common practice, c. 1315-25"],
  },
  plainGroups: {
    equal: ["all that share a breve are of one length", "counted in motets"],
    "via-naturae": ["the last of them are the longest", "Pomerium, 1318-19"],
  },
  remoteTwo: {
    "both-to-preceding": ["the note before them gives up two parts", `${LIBELLUS}, 3`],
    split: ["one goes to the note before, one to the note after", `${PRACTICE_1408}, rule 11`],
  },
  twoMinims: {
    parts: ["the breve loses two minims and holds seven", `${LIBELLUS}, 3`],
    "whole-by-alteration": [
      "the second is altered, and the breve loses a whole third: it holds six",
      `${PRACTICA}, II.11 and 13`,
    ],
  },
  remoteOverAlter: {
    false: ["the second of them is altered", `${ALTERATIONUM}, 4`],
    true: ["the larger note before them gives up two parts, and nothing is altered", NOT_TAUGHT],
  },
  minimInMinorProlation: {
    false: ["it does not: minims are no parts that such a breve can lose", `${LIBELLUS}, 3`],
    true: ["the breve gives up one minim", `some singers, reported and rejected in ${LIBELLUS}, 3`],
  },
  pendingPolicy: {
    "first-place": ["to the first note that can be shortened from the front", `${LIBELLUS}, 3`],
    "complete-first": ["rather on to later units that make the perfection full", `${ALTERATIONUM}, 1`],
  },
  syncopateAcrossLargerRest: {
    false: ["it is not: such a rest ends what could be carried", `${LIBELLUS}, 9`],
    true: ["it may be, as later music does", `${PRACTICA}, II.15`],
  },
  dotAfterMinim: {
    "augmentation-allowed": ["it adds half to the minim, or divides, as the count asks", "common practice"],
    "division-only": ["it only divides, and never lengthens", "strict treatises c. 1340-1410"],
  },
  dotOfAlteration: {
    false: ["a dot there only divides or adds", `${LIBELLUS}, 5`],
    true: ["a dot beside a pair may confirm that the second is altered", `${ARTE_CANENDI}, I.7`],
  },
  dottedRests: {
    false: ["a dot after a rest only divides", "common practice before the later 16th c."],
    true: ["a dot adds half to a rest, as to a note", "common practice of the later 16th c."],
  },
  ligatureCompletesPerfection: {
    false: ["ligated notes are counted as single ones", `${ALTERATIONUM}, 7`],
    true: ["the pair fills a perfection by itself, the second altered, whatever else stands near", PRACTICE_1412],
  },
}

const COLOUR: Readonly<Record<string, ValuesTold>> = {
  minorColor: {
    dotted: ["the larger loses a quarter, the smaller a half: as a dotted note and its rest", `${ARTE_CANENDI}, II.1`],
    triplet: [
      "both lose a third: two to one in the time of an uncoloured note",
      `the older way, ${DODECACHORDON}, III.9, supposes`,
    ],
  },
  isolatedBlack: {
    "three-quarters": ["it loses a quarter", ARTE_CANENDI],
    half: ["it loses a half", `${PRACTICA}, II.11, as a teacher's view`],
    "two-thirds": ["it loses a third, as in perfect time", "inference"],
  },
  colourInImperfect: {
    threes: ["three coloured notes stand in the time of two; others keep their value", `${PROPORTIONALE}, I.6`],
    late: ["pairs and single notes are shortened as well", `${ARTE_CANENDI}, II.1`],
    keep: ["no value changes: colour shows what belongs together", `${PROPORTIONALE}, I.6`],
  },
  colourMap: {
    "lose-a-third": ["what is perfect loses a third of its value", `${ARS_NOVA}, 19`],
    "perfect-modus": ["coloured notes are counted with the modus perfect", `${ARS_NOVA}, 19`],
    "perfect-tempus": ["coloured notes are counted with the tempus perfect", `${ARS_NOVA}, 19`],
    "perfect-prolatio": ["coloured notes are counted with the prolation major", `${ARS_NOVA}, 19`],
    "modus-and-tempus": ["perfect modus with imperfect tempus is turned round, or the reverse", `${ARS_NOVA}, 19`],
    "tempus-and-prolatio": [
      "perfect tempus with minor prolation is turned round, or the reverse",
      "Tractatus figurarum, late 14th c.",
    ],
    keep: ["no value changes: colour says where or how notes are sung (at the octave, plainsong)", `${ARS_NOVA}, 19`],
  },
}

const SIGNS: Readonly<Record<string, ValuesTold>> = {
  dottedSignAgainstPlain: {
    "minim-equality": ["its minims are as long as those of the other voices", `${PROPORTIONALE}, III.2`],
    augmentation: ["its minims are as long as the semibreves of the other voices", "Musica practica, 1482"],
    "semibreve-equality": [
      "its semibreves are as long as theirs: three minims in the time of two",
      `condemned in ${PROPORTIONALE}, III.2`,
    ],
  },
  cutCircle: {
    "2/1": ["every note lasts half as long", `${PRACTICA}, II.14`],
    faster: ["the beat is quicker; no value changes", `${PROPORTIONALE}, I.3`],
    "3/2": ["every note loses a third", "Compendium cantus figurati, 1490, 13"],
  },
  cutHalfCircle: {
    "2/1": ["every note lasts half as long", `${PRACTICA}, II.14`],
    faster: ["the beat is quicker; no value changes", `${DODECACHORDON}, III.8`],
  },
  reversedC: {
    "2/1": ["two notes in the time of one", "common practice from c. 1450"],
    "4/3": ["four notes in the time of three", "common practice, c. 1390-1450"],
  },
  numeralSigns: {
    "tempus-and-proportion": ["the circle tells the tempus, the figure how much quicker it is", `${PRACTICA}, II.8`],
    "modus-cum-tempore": ["the circle tells the modus, the figure the tempus", "De preceptis, c. 1480"],
    "modus-maior-cum-tempore": ["the circle tells the modus of maximas, a 3 perfect tempus", ARTE_CANENDI],
  },
  loneThree: {
    "3/2": ["three notes in the time of two", "common practice of the 16th c."],
    "3/1": ["three notes in the time of one", "common practice of the 16th c."],
  },
  proportionsCumulative: {
    true: ["each is taken of what is in force: two of 3/2 make 9/4", `${PRACTICA}, IV.5`],
    false: ["each is taken of the sign of mensuration, and replaces the one before", "inference"],
  },
  threeImpliesPerfection: {
    true: [
      "it makes the breve, or what is counted by it, perfect",
      `common practice, complained of in ${PROPORTIONALE}, III.5`,
    ],
    false: ["it is a proportion alone; the mensuration stays", `${PRACTICA}, IV.5`],
  },
  modusRestCode: {
    threeTwo: [
      "three rests together show the larger modus perfect, two imperfect",
      "Tractatus de regulari valore notarum, 1470s, 7-8",
    ],
    twoPlusOne: ["two show the larger modus perfect, a third one the lesser too", `${PRACTICA}, II.7`],
  },
}

const LIGATURES: Readonly<Record<string, ValuesTold>> = {
  obliqueAscendingInitial: {
    brevis: ["it is a breve", `${PRACTICA}, II.5`],
    longa: ["it is a long", "Tractatus de notis et pausis, 1470s, I.10"],
  },
  longaInMiddle: {
    false: ["it stays a breve: the stem is an error", `${PRACTICA}, II.5`],
    true: ["it is a long, as some manuscripts mean it", `called false in ${PRACTICA}, II.5`],
  },
  maximaInMiddle: {
    true: ["it is a maxima", `${PRACTICA}, II.5`],
    false: ["it is a breve, however wide", PRACTICE_1408],
  },
  widthNeedsStem: {
    false: ["it is a maxima by its width alone", `${PRACTICA}, II.5`],
    true: ["it is a breve; only a stem makes it a maxima", PRACTICE_1408],
  },
}

export const MENSURAL_VALUES: Readonly<Record<string, ValuesTold>> = { ...COUNTING, ...COLOUR, ...SIGNS, ...LIGATURES }
