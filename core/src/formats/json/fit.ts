/** Where the voices part and what would mend it, as data for other programs (docs/json.md tells it member by member). */
import type { Problem, VoiceId } from "../../base/index.js"
import type { Page } from "../../page/index.js"
import type { Proposal } from "../../together/index.js"
import { type Json, problemsMember, unreadable } from "./common.js"

export const FIT_FORMAT = "resolutio-fit"
export const FIT_VERSION = 1

/** The object that `resolutio fit --format json` prints. */
export function fitJson(
  page: Page,
  { together, firstParting, emendations }: Proposal,
  problems: readonly Problem[] = [],
): Json {
  return {
    format: FIT_FORMAT,
    version: FIT_VERSION,
    title: page.title,
    together,
    firstParting,
    emendations: emendations.map(
      ({ rank, kind, sign, voice, place, before, after, why, score, step, meets, also }) => ({
        rank,
        kind,
        sign,
        voice,
        place,
        before,
        after,
        why,
        score,
        step,
        meets,
        ...(also && { also: also.map(edit => ({ voice: numberOf(page, edit.voice), sign: edit.in[0]!.id })) }),
      }),
    ),
    ...problemsMember(problems),
  }
}

const numberOf = ({ voices }: Page, id: VoiceId): string => voices.find(one => one.id === id)!.n

/** The object of a file that could not be read. */
export function unreadableFitJson(file: string, problems: readonly Problem[]): Json {
  return unreadable(FIT_FORMAT, FIT_VERSION, file, problems)
}
