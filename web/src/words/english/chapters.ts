/** Texts of the chapters of the lowest band that are loaded when they are wanted. */
export const chaptersEnglish = {
  matters: {
    none: "Nothing here asks for a second look.",
    kinds: { doubt: "In doubt", parting: "Parting", problem: "Not read" },
    mending: "Look for slips of the pen",
    mendingHow: "Where one dot, stem or note read otherwise would let the voices meet and sound better.",
    looking: (share: number) => `Looking for slips: ${Math.round(100 * share)} of 100 …`,
    stop: "Stop looking",
    noSlips: "Nothing speaks for a slip.",
    noMending: "The voices part, and no single change that would mend it was found.",
    became: (before: string, after: string) => `${before} → ${after}`,
    likely: (score: number) =>
      `${score < 0.005 ? "under 1" : Math.round(100 * score)} in 100 that this is what is to be mended`,
    later: "once the ones before it are made",
    try: "What if",
    make: "Make it",
    made: (report: string) => `Made. For the critical report: ${report}`,
    mended: (place: string) => `${place}: a slip mended`,
  },

  measure: {
    title: "What the notes say of their measure",
    looking: "Weighing the mensurations …",
    given: "stated in the file",
    found: (chance: string) => `found; ${chance}`,
    readBy: (practice: string) => `Read by ${practice}.`,
    none: "There is no note to tell a mensuration from.",
    together: (chance: string) => `${chance} with those that no note tells from it`,
    chance: (chance: number) =>
      chance > 0.995 ? "nearly certain" : chance < 0.005 ? "hardly possible" : `${Math.round(100 * chance)} in 100`,
    asLongAs: (labels: readonly string[]) =>
      labels.length === 0 ? "no other voice is as long" : `as long as ${labels.join(" and ")}`,
    for: "for",
    against: "against",
    change: "A change?",
    write: "Write the signs that were found",
    written: "the mensurations that were found, supplied",
    show: "show the first sign of it",
  },

  repeats: {
    looking: "Looking for what comes again …",
    none: "This piece has no voice.",
    of: "Of the voice",
    statement: "Statement",
    mayBeChance: "It may be chance.",
    differs: "differs from its fellows",
  },

  accidentals: {
    looking: "Listening to the intervals …",
    next: "Next",
    grades: { required: "required", likely: "likely", optional: "optional" },
    inTheEdition: "Over the notes of the edition",
    shown: { none: "none of them", required: "the required", likely: "required and likely", optional: "all of them" },
    open: "Left as they stand",
    decided: "Decided",
    because: (what: string, reason: string) => (reason === "" ? `${what}.` : `${what}. ${reason}`),
    alike: (n: number, kind: string) => `${n} alike (${kind})`,
    acceptAlike: (n: number) => `Accept all ${n} like it`,
    refuseAlike: (n: number) => `Refuse all ${n} like it`,
    step: {
      accepted: (what: string) => `${what}, accepted`,
      refused: (what: string) => `${what}, refused`,
    },
    said: {
      accepted: (what: string) => `Accepted: ${what}. Undo takes all of it back.`,
      refused: (what: string) => `Refused: ${what}. Undo takes all of it back.`,
    },
  },

  practice: {
    title: (voice: string) => `Practice of ${voice}`,
    notes: "what the notes themselves show",
    inferred: (title: string) => `Nothing is stated; the notes speak for ${title}.`,
    options: (n: number) => `Its options${n === 0 ? "" : `, ${n} of them not as usual`}`,
    usual: (value: string) => `${value} (usual)`,
    step: (voice: string) => `the practice of ${voice}`,
    option: (voice: string) => `an option of ${voice}`,
    asOf: (year: string) => `as of ${year}`,
    yes: "yes",
    no: "no",
  },

  supposePractice: {
    title: "What if the voices were read …",
    voices: "Voices",
    all: "all",
    practice: "by",
    asNow: "the practice as it is",
    option: "with",
    chosen: (option: string) => `${option} (chosen)`,
    tried: "Tried together",
    asIs: "as it is",
    asIsAgain: (option: string) => `${option}: as it is again`,
    several: "The voices are read by different practices: choose one, or one voice, to see options.",
  },
}
