/** The part of docs/weights.md about practices and mensurations found out: numbers from the code, words from here. */
import {
  AGREE,
  APART,
  CHANCE_LENGTHS,
  CHANGE,
  CUSTOM,
  DATED,
  DECLARED_DOUBTED,
  DECLARED_RIGHT,
  LEFT_FOR_CERTAIN,
  DOT,
  GROUPS,
  LEAST_WRONG,
  LENGTH,
  LATE,
  LENGTHS,
  LENGTH_NOT_KNOWN,
  NEAR_LENGTH,
  MOST_SIGNS,
  OTHER_SIGN,
  OLD,
  PLACE,
  READ_OTHERWISE,
  RIGHT_LENGTH,
  SAME_BREVE,
  SECTION_AT_BREVE,
  SECTION_OPEN,
  SIGNS,
  SINGLE,
  SLIP,
  SMOOTHING,
  SOUND,
  TEMPER,
  TURN,
  WALL_FULL,
  WALL_OPEN,
} from "../../core/src/together/mensuration/weights.js"

type Row = readonly [what: string, value: string | number]

const rows = (head: string, all: readonly Row[]): string =>
  [`| ${head} | |`, "|---|---|", ...all.map(([what, value]) => `| ${what} | ${value} |`)].join("\n")
const percent = (chance: number): string => `${Number((100 * chance).toFixed(1))} %`
const bySize = (sizes: object): string =>
  Object.entries(sizes)
    .map(([size, weight]) => `${size}: ${weight}`)
    .join(", ")

const PLACES: readonly Row[] = [
  ["at the beginning of a cell of its own size", 1],
  ["a unit late, shortened from the front", PLACE.ante],
  ["the same by a remote part", PLACE.antePart],
  ["anywhere else (maxima, longa, brevis, semibrevis, smaller)", PLACE.off.join(", ")],
]
const LENGTHS_OF_NOTES: readonly Row[] = [
  ["a perfect note that a smaller one follows loses its last third", percent(LENGTH.short)],
  ["a perfect note before its like stays whole", percent(LENGTH.likeWhole)],
  [
    "the second of two is doubled before the next larger; is not, before anything else",
    `${LENGTH.altered}; ${LENGTH.notAltered}`,
  ],
  ["a note that stands a unit late is shortened from the front", percent(LENGTH.ante)],
  [
    "the same before its like, at the modus and below",
    `${percent(LENGTH.anteBeforeLikeAtModus)}, ${percent(LENGTH.anteBeforeLike)}`,
  ],
  ["one, two remote parts are lost", LENGTH.parts.map(percent).join(", ")],
  ["a dot parts perfections where one ends; keeps a perfect note whole", `${DOT.division}; ${DOT.perfection}`],
  ["a dot adds half, at the beginning of a larger cell; elsewhere", `${DOT.addition}; ${DOT.additionElsewhere}`],
  ["of this, where the file says so of a perfect note", DOT.againstTable],
  ["a dot means nothing that is taught", DOT.nothing],
  ["a stroke of division where a perfection is full; where none is", `${WALL_FULL}; ${WALL_OPEN}`],
  ["a section that ends within a long; within a breve", `${SECTION_AT_BREVE}; ${SECTION_OPEN}`],
  ["at any note counting begins anew, by a slip", percent(SLIP)],
  [
    "a semibreve by itself shortens the breve beside it in perfect tempus; stands for a breve",
    `${SINGLE.shortens}; ${SINGLE.stands}`,
  ],
  ["sizes of groups on a breve, c. 1280", bySize(GROUPS.few)],
  ["sizes of groups on a breve, c. 1300", bySize(GROUPS.many)],
  ["sizes of groups on a breve, 1315-25", bySize(GROUPS.unwritten)],
  ["added to the count of each level when its share is taken", SMOOTHING],
]
const INNER: readonly Row[] = [
  ["a rest of three spaces: modus perfect", SIGNS.threeSpaces],
  ["rests of two spaces and none of three", SIGNS.twoSpaces],
  ["two rests side by side at one height", SIGNS.hangingRests],
  ["the file gives a note as perfect, or as doubled", SIGNS.given],
  ["coloured notes in threes", SIGNS.colouredThrees],
  ["a pair of plain semibreves one of which bears a stem: tempus perfect", SIGNS.stemmedPair],
  ["a group of plain semibreves by its size, for perfect tempus", bySize(SIGNS.groupOf)],
  ["all groups together at most", SIGNS.mostOfGroups],
  ["of one kind so many count at most", MOST_SIGNS],
]
const TOGETHER: readonly Row[] = [
  ["of all that the notes of a voice say so much is taken, since they repeat each other", TEMPER],
  [
    "a voice shares the piece's modus maior, modus minor, tempus, prolatio",
    Object.values(AGREE).map(percent).join(", "),
  ],
  ["a voice turns the piece's tempus and prolation round, so that its breves are as long", percent(SAME_BREVE)],
  ["a voice read by itself under its right mensuration has the length of the piece", percent(RIGHT_LENGTH)],
  [
    "otherwise it is mostly longer or shorter by at most one in so many, and has one of so many lengths",
    `${NEAR_LENGTH.oneIn}, ${percent(NEAR_LENGTH.share)}, ${NEAR_LENGTH.lengths}`,
  ],
  [
    "lengths it might have by chance; chance of a length that was not worked out",
    `${CHANCE_LENGTHS}; ${LENGTH_NOT_KNOWN}`,
  ],
  [
    "lengths are worked out from this chance on, for so many mensurations",
    `${percent(LENGTHS.leastChance)}, ${LENGTHS.most}`,
  ],
  [
    "the same of a voice that is as long as no other under any of these",
    `${LENGTHS.leastOfMore}, ${LENGTHS.mostOfMore}`,
  ],
  [
    "the voices are searched together, as a reading does, under common measures from this chance on, so many that differ; what they cost counts at most",
    `${percent(SOUND.leastChance)}, ${SOUND.most}; ${SOUND.counts}`,
  ],
  [
    "and with one voice under another measure than the others from this chance on, so many of a piece (of a long one), counting at most",
    `${percent(APART.leastChance)}, ${APART.most} (${APART.mostOfLong}), ${APART.mostTogether}`,
  ],
  ["no level is surer than", percent(1 - LEAST_WRONG)],
  ["a stated mensuration is right", percent(DECLARED_RIGHT)],
  ["it is called contradicted when less than this is left of it", percent(DECLARED_DOUBTED)],
  [
    "a voice is said to miss the others by its sign where under the other tempus or prolation it meets them, giving up no more of its rules than this, and all sound better by this; in pieces of up to so many notes",
    `${OTHER_SIGN.bent}; ${OTHER_SIGN.sounds}; ${OTHER_SIGN.mostNotes}`,
  ],
  ["a reading tells of a change that no sign states where its doubt is under this", percent(LEFT_FOR_CERTAIN)],
  [
    "price of a change within a voice, anywhere; at a bar, a section or another ink",
    `${CHANGE.anywhere}; ${CHANGE.atSection}`,
  ],
  [
    "least gain of a change, and notes it must hold for; what speaks against it beforehand",
    `${CHANGE.least}, ${CHANGE.leastTokens}; ${CHANGE.before}`,
  ],
  [
    "a voice is read by turns to another tempus and prolation, or modus, where their doubt is under this; what speaks beforehand against one; against each further one",
    `${percent(TURN.read)}; ${TURN.before}; ${TURN.again}`,
  ],
  [
    "that all voices fit each other better so counts up to this; of what goes beyond this share; at most; what remains whichever voice is left out counts in full",
    `${TURN.mostTogether}; ${percent(TURN.beyond)}; ${TURN.mostBeyond}`,
  ],
  [
    "least gain of a turn at a glance; counted anew from there on; tokens around its best place that are looked at, and beyond",
    `${TURN.glimpsed}; ${TURN.least}; ${TURN.around}, ${TURN.ahead}`,
  ],
  [
    "two turns of a voice at once are looked at where they gain so much more at a glance, so many; from a turn with these odds on one looks again",
    `${TURN.glimpsedAgain}, ${TURN.mostTwice}; ${TURN.likely}`,
  ],
  ["a turn within a breve; at a breve within a long", `${TURN.open}; ${TURN.atBreve}`],
  ["a voice has no note that begins where all turn", -TURN.notAtOnce],
  [
    "a turn of all in modus alone is heard where they give up so much of their own rules or do not meet; after these shares of the notes; then around the best, by this part of them, down to so many notes",
    `${TURN.modus.strain}; ${TURN.modus.shares.join(", ")}; 1/${TURN.modus.parts}, ${TURN.modus.nearest}`,
  ],
  [
    "places of a voice that are heard, of all where one turns; pairs and moments where all do; rounds (of long pieces, from so many notes times voices on)",
    `${Object.values(TURN.most).join(", ")} (${Object.values(TURN.mostOfLong).join(", ")}; ${TURN.long})`,
  ],
]
const PRACTICE: readonly Row[] = [
  ["before anything is looked at", OLD.before],
  ["each plica; all", `${OLD.plica}; ${OLD.mostPlicas}`],
  ["each double long or running figure; all", `${OLD.body}; ${OLD.mostBodies}`],
  ["each stroke; all", `${OLD.stroke}; ${OLD.mostStrokes}`],
  ["semibreves in twos and threes only, from so many groups on", `${OLD.smallGroups}, ${OLD.leastGroups}`],
  ["each stem down on a single semibreve; all", `${OLD.stem}; ${OLD.mostStems}`],
  ["each coloured note; all", `${OLD.colour}; ${OLD.mostColour}`],
  ["each proportion and canon; all", `${OLD.faster}; ${OLD.mostFaster}`],
  ["each sign of tempus or prolation; all", `${OLD.sign}; ${OLD.mostSigns}`],
  ["a prolation or a breve of two parts that the file states", OLD.stated.toFixed(1)],
  ["longs and breves count in threes; in twos, at most", `${OLD.modusPerfect}; ${-OLD.mostModus}`],
  [
    "of what the voices read together cost less in one of the two practices so much is taken; at most; from this doubt on",
    `${OLD.byEar}; ${OLD.mostByEar}; ${OLD.heardFrom}`,
  ],
  [
    "for each note Ars antiqua may cost so much more, halfway between invented pieces of both; a longer piece says no more than one of so many notes",
    `${OLD.dearerByNote}; ${OLD.heardNotes}`,
  ],
  ["share of minims that may be a later hand's", percent(OLD.strayMinims)],
  ["doubt left where shapes leave none", OLD.certainDoubt],
  [
    "year that a file states between the two; odds rise by e in so many years; at most",
    `${OLD.between}; ${OLD.within}; ${DATED}`,
  ],
]

const LATER: readonly Row[] = [
  ["before anything is looked at", LATE.before],
  ["fusae", LATE.fusae],
  ["a stroke through a sign of mensuration", LATE.cut],
  ["blackened notes; red ones", `${LATE.blackened}; ${LATE.red}`],
  ["names of voices that came into use about 1450; names of motets before 1430", `${LATE.names}; ${-LATE.names}`],
  ["five voices or more", LATE.many],
  [
    "year that a file states between the two; odds rise by e in so many years; at most",
    `${LATE.between}; ${LATE.within}; ${DATED}`,
  ],
  [
    "of the doubt about the practice so much is a note's, since both are read alike but for a few",
    percent(READ_OTHERWISE),
  ],
]

function customs(): string {
  const head =
    "| | modus maior perfect | modus minor perfect | tempus perfect, prolatio minor | perfect, maior | imperfect, minor | imperfect, maior |"
  const lines = Object.entries(CUSTOM).map(([name, { modusMaior, modusMinor, tempora }]) => {
    const cells = [modusMaior, modusMinor, tempora["3.2"], tempora["3.3"], tempora["2.2"], tempora["2.3"]]
    return `| \`${name}\` | ${cells.map(percent).join(" | ")} |`
  })
  return [head, "|---|---|---|---|---|---|---|", ...lines].join("\n")
}

/** Markdown, from its heading on. */
export function mensurationWeights(): string {
  return [
    `## How practice and mensuration are found

Each of the sixteen mensurations is asked how well it foretells the written signs: at each place of the measure some notes are at home, others come by shortening or syncopation, and lengths follow the rules as far as the next sign settles them. Summed over all ways to count and set against the voice's bare shares of levels, this can be compared between perfect and imperfect divisions. Nothing here was fitted to a piece. All numbers are estimates: which is more and which is less follows the treatises (Libellus, c. 1340; Ars cantus mensurabilis, c. 1280) and what is observed in motets; the sizes were set by hand and tried on invented lawful voices and two madrigals of 1582 (\`node scripts/measure-mensuration.mjs\`). Invented rhythms are not music: the numbers of that script say little about real pieces.`,
    rows("how welcome a note is at a place", PLACES),
    rows("chances of lengths, worth of dots", LENGTHS_OF_NOTES),
    "Signs within the music, as natural logarithms of odds for the perfect division (half for it, half against the other). That groups of three speak for perfect breves and groups of four for imperfect ones is a guess; so are the customs of 1315-25.",
    rows("inner sign", INNER),
    "Before a note is looked at, and where none decides, custom does (estimates; `ars-nova-early` are plain semibreves, `ars-nova-signed` voices whose tempus has a sign and whose modus has none; absence means imperfect in the 15th and 16th centuries: Tractatus de regulari valore notarum, 1470s; Practica musicae, 1496, II.7):",
    customs(),
    rows("voices together, stated signs, changes", TOGETHER),
    "That minims and breves of both are as long where perfect tempus and minor prolation stand against imperfect and major is common practice of the fourteenth century. To sing or count against the other voices is the last resort (Tractatus practice de musica mensurabili, 1408, last chapter): what a search of all voices costs is a logarithm of odds already.",
    "Void heads are white notation, minims and full heads Ars nova. A page without minims is weighed, for Ars antiqua (positive) or plain semibreves of 1315-25:",
    rows("shape", PRACTICE),
    "A page with minims of whose heads the file says nothing, for white notation (positive) or Ars nova. The years say when the piece was made; of the year of a source only that it is not older. All are estimates; names and number of voices are common practice.",
    rows("sign of the time", LATER),
  ].join("\n\n")
}
