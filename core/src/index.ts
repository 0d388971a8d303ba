/** The public list, name by name. `cli` and `web` import only this. */
export {
  compare,
  equals,
  fromText,
  max,
  minus,
  over,
  plus,
  ratio,
  signId,
  sum,
  timeFromText,
  times,
  toNumber,
  toText,
  voiceId,
} from "./base/index.js"
export type { Problem, ProblemPlace, Rational, Result, SignId, VoiceId } from "./base/index.js"

export {
  ABBREVIATIONS,
  CHOSEN_ACCIDENTALS,
  DECIDED_DOTS,
  LEVELS,
  applyChange,
  changeBetween,
  decisionPlace,
  decisionReason,
  decisionWords,
  findSign,
  findVoice,
  flatSigns,
  idGiver,
  lengthsText,
  locate,
  locateAll,
  markAfter,
  personNamed,
  puttingDecision,
  shortPlace,
  showPlace,
  signTold,
  unitText,
} from "./page/index.js"
export type {
  ChosenAccidental,
  DecidedDot,
  Decision,
  FlatSign,
  LengthUnit,
  Level,
  Note,
  Page,
  PageChange,
  Pitch,
  Place,
  Rest,
  Sign,
  SignTold,
  Voice,
} from "./page/index.js"
export { parseShorthand, placeInText, printShorthand, readDecided, shorthandParser } from "./page/shorthand/index.js"
/** Writing on the page: the text it is typed in, the smallest change to what was typed, and what keys do on the drawn page. */
export * as writing from "./page/writing/index.js"
export { canonWords } from "./page/index.js"
export type { Canon, CanonEntry, CanonSign, CanonStatement, CanonVoice, FormStep } from "./page/index.js"

export { PRACTICES, RULE_IDS, optionValueTold, practiceNamed, settingsOf, without } from "./practices/index.js"
export type { OptionSpec, OptionValueTold, Practice, Rule, Source } from "./practices/index.js"

export {
  changesBetween,
  decisionsForRival,
  explainLong,
  countText,
  explainRule,
  explainShort,
  headlineOf,
  levelName,
  otherLengths,
  readPage,
  readVoice,
  rereadVoice,
  sourceOf,
  spokenName,
} from "./reading/index.js"
export type {
  CanonReading,
  MensurationSpan,
  PracticeChoice,
  Quality,
  Reading,
  ReadOptions,
  SignChange,
  SignReading,
  SignRival,
  SungStatement,
  SungVoice,
  Unit,
  VoiceRival,
} from "./reading/index.js"

export { readingTogether, readTogether, Recall, rivalOf } from "./together/index.js"
export type { RivalAsked, RivalReading, Together } from "./together/index.js"

export {
  chooseTenor,
  differencesInWords,
  fellowsOf,
  findRepetition,
  planOf,
  repeatDisagreements,
  seriesColumns,
  seriesInWords,
} from "./together/index.js"
export type {
  Difference,
  DifferenceInWords,
  Disagreement,
  Disagreements,
  Repetition,
  Series,
  SeriesColumn,
  Statement,
} from "./together/index.js"

export {
  readApart,
  divisionsInWords,
  fitsUnder,
  withSignsChecked,
  ownOdds,
  shownCandidates,
  findMensurations,
  levelInWords,
  mensurationInWords,
  suppliedLevels,
  supplyFound,
} from "./together/index.js"
export type { Candidate, Evidence, FindOptions, FitUnder, Found, FoundChange, VoiceFound } from "./together/index.js"

export { EMENDATION_KINDS, emend, propose, proposing, showReportLine } from "./together/index.js"
export type {
  Edit,
  Emendation,
  EmendationKind,
  Emended,
  Hand,
  Parting,
  Progress,
  ProposeOptions,
  Proposal,
  ReportLine,
} from "./together/index.js"

export {
  TooShort,
  alignVoices,
  fitOf,
  fitSentence,
  modernName,
  soundingOf,
  unitInWholes,
  usualReduction,
} from "./score/index.js"
export type {
  AlignOptions,
  Fit,
  Form,
  FormPart,
  Score,
  ScoreVoice,
  Sounding,
  SungFrom,
  ValueOptions,
} from "./score/index.js"

export {
  SHOWN_THEME,
  STYLE_NAMES,
  THEMES,
  drawPage,
  drawSheets,
  layPage,
  drawTime,
  drawTimeSheets,
  layTime,
  themeNamed,
  textWidth,
  toSvg,
  svgOf,
  undrawnIn,
  inOurTypefaces,
  LACKING_BOX,
} from "./drawing/index.js"
export {
  askedOver,
  cartouchesOver,
  cartouchesRound,
  momentAt,
  placesIn,
  signAt,
  signBoxes,
  soundingOver,
  staffPointAt,
  wedgesOver,
  xOfMoment,
} from "./drawing/index.js"
export type {
  Box,
  Group,
  Item,
  LaidPage,
  LaidSystem,
  LaidTime,
  LinePlace,
  Mark as DrawnMark,
  MomentPlace,
  PlacedMoment,
  Placing,
  WrittenScene,
  Role,
  ScenePlaces,
  SignPlaces,
  StaffPoint,
  PageOptions,
  Path,
  PathStep,
  Scene,
  SvgOptions,
  TextMark,
  Theme,
  TimeInput,
  TimeOptions,
  TypeStyle,
} from "./drawing/index.js"

export {
  FIGURE_KINDS,
  FIGURE_SIZES,
  LECTURE_STEPS,
  drawFigure,
  figureKind,
  figureSize,
  lectureOf,
} from "./teaching/index.js"
export type { LectureAxis, LectureRoom, LectureSheet, LectureStep } from "./teaching/index.js"
export type { Figure, FigureAsked, FigureKind, FigurePicture, FigureSize, PassagePart } from "./teaching/index.js"

export {
  fictaJson,
  fitJson,
  mensurationJson,
  readingJson,
  tenorJson,
  unreadableFictaJson,
  unreadableFitJson,
  unreadableJson,
  unreadableMensurationJson,
  unreadableTenorJson,
} from "./formats/json/index.js"
export { csvCannotCarry, readingsCsv } from "./formats/csv/index.js"
export type { CsvOptions } from "./formats/csv/index.js"
export { musicXmlCannotCarry, writeMusicXml } from "./formats/musicxml/index.js"
export {
  FICTA_GRADES,
  FICTA_RULES,
  acceptFicta,
  alikeFicta,
  fictaSummary,
  proposalsUpTo,
  proposeFicta,
  refuseFicta,
  tellFicta,
  tellOpenFicta,
  withFicta,
} from "./ficta/index.js"
export type {
  AccidentalChoice,
  DecidedAs,
  Ficta,
  FictaCause,
  FictaGrade,
  FictaOpen,
  FictaOpenTold,
  FictaProposal,
  FictaRule,
  FictaTold,
} from "./ficta/index.js"
export {
  CLEF_NAMES,
  CONVENTIONS,
  HOUSE_STYLES,
  USUAL_CLEFS,
  USUAL_CONVENTIONS,
  clefFor,
  clefNamed,
  conventionsInWords,
  conventionsWith,
  styleNamed,
  valuesBy,
} from "./edition/index.js"
export type {
  ClefConventions,
  ClefName,
  Convention,
  ConventionChoice,
  ConventionName,
  EditionConventions,
  HouseStyle,
  ModernClef,
} from "./edition/index.js"
export {
  barNumber,
  goesOnOver,
  modernMei,
  modernMeiCannotCarry,
  partId,
  plicaId,
  scoreId,
} from "./formats/mei/modern/index.js"
export { openText } from "./formats/open.js"
export { openMei } from "./formats/open-mei.js"
export { openShorthand } from "./formats/open-shorthand.js"
export { isMei, type Opened } from "./formats/opened.js"
export { newMei, readMei, withPage, writeMei } from "./formats/mei/index.js"
export type { MeiDocument } from "./formats/mei/index.js"
export { midiCannotCarry, writeMidi } from "./formats/midi/index.js"

export {
  EQUIVALENCES,
  EQUIVALENCE_RULES,
  FADE,
  PROGRAMS,
  TEMPO_RANGES,
  TEMPO_VALUES,
  TIMBRES,
  TUNINGS,
  excerpt,
  inSequence,
  intervalFrom,
  limiterGains,
  limiterMargin,
  loudnessMeter,
  mixDown,
  MIX_LOUDNESS,
  onlyVoice,
  parseTuning,
  perform,
  placeOf,
  practising,
  rivalsInTurn,
  secondsAt,
  secondsPerUnitAt,
  synthScript,
  tactusOf,
  tactusSeconds,
  toneRenderer,
  tuningChosen,
  tuningDefault,
  tuningTitle,
  unitsAt,
  valueIn,
  withCountIn,
} from "./performance/index.js"
export type {
  Clock,
  Equivalence,
  EquivalenceDecision,
  EquivalenceTaken,
  Excerpt,
  Interval,
  LoudnessMeter,
  Mix,
  MixSource,
  Passage,
  Performance,
  PerformanceOptions,
  PerformedVoice,
  Sound,
  Stems,
  Stereo,
  SynthMessage,
  SynthOptions,
  SynthScript,
  Tempo,
  TempoTaken,
  TempoValue,
  Timbre,
  ToneRenderer,
  Tuning,
  TuningDefault,
  TuningName,
  TuningTable,
  VoiceSound,
  VoiceWishes,
} from "./performance/index.js"
export {
  BOOK_PARTS,
  DOUBT_FROM,
  REPORT_COLUMNS,
  REPORT_KINDS,
  ambitusOf,
  bookOf,
  columnsFor,
  criticalReport,
  doubtText,
  engraveWith,
  engraverFonts,
  paginate,
  prefatoryRoom,
  prefatoryStaves,
  readEngraved,
  readOutline,
  reportCsv,
  reportMarkdown,
  reportPlace,
  reportSections,
  reportSentence,
  reportText,
  roomText,
  scoreSvg,
  spread,
  stanzaText,
  textsOf,
} from "./book/index.js"
export type {
  Book,
  BookInput,
  BookPart,
  EngraveOptions,
  EngravedScore,
  EngraverToolkit,
  Engraving,
  EngravedSystem,
  PageOfBlocks,
  PrefaceSection,
  PrefatoryOptions,
  PrefatoryStaves,
  ReportEntry,
  ReportForm,
  ReportInput,
  ReportKind,
  ReportOptions,
  ReportSection,
  ScoreInSystems,
  SvgNode,
  TextRun,
  TextSection,
  TextStanza,
  TitlePage,
  VoiceText,
} from "./book/index.js"
export { NO_HEAD, meiHead } from "./formats/mei/index.js"
export type { MeiHead } from "./formats/mei/index.js"
export { MARKER_COLUMNS, markersCsv, markersJson, markersOf, markersVtt } from "./formats/markers/index.js"
export type { Marker } from "./formats/markers/index.js"
export { WAV_HEADER_BYTES, pcm16, wavHeader } from "./formats/wav/index.js"
export type { WavForm } from "./formats/wav/index.js"
