/**
 * A reading as data for other programs. The shape is a contract: additions are fine, changes are not
 * (docs/json.md tells it member by member). Times are exact fractions as text, in the voice's unit.
 */
import { toText, type Problem } from "../../base/index.js"
import { canonWords, decisionPlace, writeFormStep, type Decision, type Page } from "../../page/index.js"
import {
  explainShort,
  sourceOf,
  type CanonReading,
  type Reading,
  type SignReading,
  type SignRival,
} from "../../reading/index.js"
import type { Fit } from "../../score/index.js"
import { placesOf } from "../places.js"
import { type Json, problemJson, problemsMember, rounded, unreadable } from "./common.js"

export const READING_FORMAT = "resolutio-reading"
export const READING_VERSION = 1

/** The object that `resolutio read --format json` prints: whole voices in the page's order, then how they fit. */
export function readingJson(
  page: Page,
  readings: readonly Reading[],
  fit: Fit,
  about: { readonly file?: string; readonly problems?: readonly Problem[] } = {},
): Json {
  return {
    format: READING_FORMAT,
    version: READING_VERSION,
    ...(about.file === undefined ? {} : { file: about.file }),
    title: page.title,
    voices: readings.map(voiceJson),
    fit,
    ...(page.decisions ? { decisions: page.decisions.map(one => decisionJson(page, one)) } : {}),
    ...problemsMember(about.problems),
  }
}

/** The object of a file that could not be read. */
export function unreadableJson(file: string, problems: readonly Problem[]): Json {
  return unreadable(READING_FORMAT, READING_VERSION, file, problems)
}

function voiceJson(reading: Reading): Json {
  const { practice } = reading
  const places = placesOf(reading)
  return {
    n: reading.n,
    label: reading.label,
    duration: toText(reading.duration),
    unit: reading.unit,
    practice: {
      name: practice.name,
      options: practice.options,
      from: practice.from,
      doubt: practice.doubt,
      ...(practice.settled && { settled: practice.settled }),
    },
    mensurations: reading.mensurations.map(mensurationJson),
    ...(reading.canon ? { canon: canonJson(reading.canon) } : {}),
    signs: reading.signs.map((sign, at) => signJson(reading, sign, places[at] ?? reading.label)),
    rivals: reading.rivals.map(({ cost, duration, partsAt, signs }) => ({
      cost: rounded(cost),
      duration: toText(duration),
      partsAt,
      signs: Object.fromEntries([...signs].map(([id, lasts]) => [id, toText(lasts)])),
    })),
    problems: reading.problems.map(problemJson),
  }
}

function canonJson({ from, because, voices }: CanonReading): Json {
  return {
    from,
    because,
    voices: voices.map(({ label, words, enters }) => ({
      ...(label === undefined ? {} : { label }),
      words,
      enters: "num" in enters ? toText(enters) : { with: enters.with },
    })),
  }
}

function decisionJson(page: Page, decision: Decision): Json {
  const { id, sign, duration, not, dot, canon, form, accidental, notAccidental, label, who, why } = decision
  return {
    id,
    sign,
    place: decisionPlace(page, decision),
    ...(duration === undefined ? {} : { duration: toText(duration) }),
    ...(not === undefined ? {} : { not: not.map(toText) }),
    ...(dot === undefined ? {} : { dot }),
    ...(canon === undefined ? {} : { canon: canonWords(canon) }),
    ...(form === undefined ? {} : { form: form.map(writeFormStep) }),
    ...(accidental === undefined ? {} : { accidental }),
    ...(notAccidental === undefined ? {} : { notAccidental }),
    ...(label === undefined ? {} : { label }),
    ...(who === undefined ? {} : { who: page.people?.[who] ?? who }),
    ...(why === undefined ? {} : { why }),
  }
}

function mensurationJson(span: Reading["mensurations"][number]): Json {
  const { onset, modusMaior, modusMinor, tempus, prolatio, from, doubt, proportion, sign } = span
  return {
    onset: toText(onset),
    modusMaior,
    modusMinor,
    tempus,
    prolatio,
    from,
    doubt: rounded(doubt),
    proportion: toText(proportion),
    ...(sign === undefined ? {} : { sign }),
  }
}

function signJson(reading: Reading, sign: SignReading, place: string): Json {
  const { plica } = sign
  return {
    id: sign.id,
    place,
    kind: sign.kind,
    level: sign.level,
    pitch: sign.pitch,
    onset: toText(sign.onset),
    duration: toText(sign.duration),
    quality: sign.quality,
    rule: sign.rule,
    because: sign.because,
    decidedBy: sign.decidedBy,
    explain: explainShort(reading, sign),
    source: sourceOf(reading.practice.name, sign.rule),
    doubt: rounded(sign.doubt),
    rivals: sign.rivals.map(rival => rivalJson(reading, sign, rival)),
    ...(sign.also.length > 0 ? { also: sign.also } : {}),
    ...(plica ? { plica: { duration: plica.duration && toText(plica.duration), pitch: plica.pitch } } : {}),
    ...(sign.others === undefined ? {} : { others: othersJson(sign.others) }),
    ...(sign.held ? { held: true } : {}),
    ...(sign.takenFor === undefined ? {} : { takenFor: sign.takenFor }),
    ...(sign.rulesSay === undefined ? {} : { rulesSay: toText(sign.rulesSay) }),
    ...(sign.rulesTakeFor === undefined ? {} : { rulesTakeFor: sign.rulesTakeFor }),
    ...(sign.refused === undefined ? {} : { refused: sign.refused.map(toText) }),
  }
}

function othersJson({ how, voices, signs, alone }: NonNullable<SignReading["others"]>): Json {
  return { how, voices, signs, ...(alone === undefined ? {} : { alone: toText(alone) }) }
}

function rivalJson(reading: Reading, sign: SignReading, rival: SignRival): Json {
  const instead: SignReading = { ...sign, ...rival, quality: null, also: [], refused: undefined, rulesSay: undefined }
  return { duration: toText(rival.duration), rule: rival.rule, explain: explainShort(reading, instead) }
}
