/** What the window shows, and of which sign it speaks. Nothing of it is part of the piece. */
import type { FictaGrade, Level, PageChange, SignId, VoiceId, writing } from "@resolutio/core"
import { createStore } from "zustand/vanilla"

export type BandName = "page" | "time" | "edition"
/** What the lowest band is about. */
export type Chapter = "reason" | "matters" | "measure" | "repeats" | "accidentals" | "practice"
/** What stands in place of the bands. */
export type Sheet = "open" | "new" | "find" | "keys" | "export"
/** What may be asked about the selected sign, or about the practices of all voices, in the Reason band. */
export type Asking = "supposing" | "deciding" | "practices"

export interface Supposed {
  readonly change: PageChange
  readonly words: string
}

/** Letters write on the page. */
export interface Writing {
  /** Of the next note or rest. */
  readonly level: Level
  /** What is written takes the place of what stands there. */
  readonly over: boolean
  /** The voice that is written in where no sign is selected. */
  readonly voice?: VoiceId
}

/** A photograph of the source lies beside the staves, or under them. */
export interface PhotographShown {
  readonly under: boolean
  /** Of several, the one that is seen. */
  readonly surface?: string
  /** 1: as wide as its place. */
  readonly zoom: number
  /** Where a region that is made now begins. */
  readonly start: writing.RegionStart
  /** The region that is being laid with keys. */
  readonly region?: string | undefined
}

export interface ViewState {
  readonly selected?: SignId
  /** The other end of what is selected, where that is more than one sign. */
  readonly anchor?: SignId
  readonly writing?: Writing
  /** The page's text stands beside its drawing. */
  readonly text?: boolean
  readonly photograph?: PhotographShown
  /** The one opened last stands last. */
  readonly open: readonly BandName[]
  /** It has the window to itself. */
  readonly alone: boolean
  readonly chapter: Chapter
  readonly asking?: Asking
  readonly sheet?: Sheet
  /** The search for slips is to begin. */
  readonly slips?: boolean
  readonly supposed?: Supposed
  /** So strongly proposed accidentals, and stronger ones, stand over the notes of the edition; undefined: none. */
  readonly accidentals?: FictaGrade | undefined
  /** The music alone, for others to see. */
  readonly presenting?: boolean
  readonly zoom: Readonly<Record<BandName, number>>
  readonly ground: "light" | "dark" | "machine"
  /** Letters act by themselves; else only with Alt. */
  readonly letters: boolean
  /** Told once, in the last line, until something else is done. */
  readonly said?: string
}

/** At most so many bands are open. */
const MOST_OPEN = 2

export const view = createStore<ViewState>(() => ({
  open: ["time"],
  alone: false,
  chapter: "reason",
  zoom: { page: 1, time: 1, edition: 1 },
  ...remembered(),
}))

/** Speaks of another sign. What is supposed stays supposed, so that one can look around in it. */
export function select(selected: SignId | undefined): void {
  const { chapter, supposed, asking } = view.getState()
  view.setState({
    selected,
    anchor: undefined,
    chapter: selected ? "reason" : chapter,
    asking: supposed ? asking : undefined,
  })
}

/** The sign is shown in the music; the chapter stays. */
export function lookAt(sign: SignId): void {
  const { chapter } = view.getState()
  select(sign)
  view.setState({ chapter })
}

export function toggleBand(band: BandName): void {
  const { open } = view.getState()
  const others = open.filter(one => one !== band)
  if (others.length < open.length) view.setState({ open: others.length > 0 ? others : open, alone: false })
  else view.setState({ open: [...others.slice(1 - MOST_OPEN), band], alone: false })
}

export function setChapter(chapter: Chapter): void {
  view.setState({ chapter, asking: undefined, sheet: undefined })
}

export function setSheet(sheet: Sheet | undefined): void {
  view.setState({ sheet })
}

const STEPS = [0.6, 0.75, 0.9, 1, 1.15, 1.35, 1.6, 2, 2.5, 3.2]
export function zoomBy(band: BandName, by: 1 | -1): void {
  const { zoom } = view.getState()
  const near = STEPS.findIndex(step => step >= zoom[band] - 1e-6)
  const at = Math.min(STEPS.length - 1, Math.max(0, near + by))
  view.setState({ zoom: { ...zoom, [band]: STEPS[at]! } })
}

const KEPT = "resolutio view"

/** How the window was left, as far as it is a matter of taste. */
function remembered(): Pick<ViewState, "ground" | "letters"> {
  const usual = { ground: "machine", letters: true } as const
  try {
    const { ground, letters } = JSON.parse(localStorage.getItem(KEPT) ?? "{}") as Partial<ViewState>
    return {
      ground: ground === "light" || ground === "dark" ? ground : usual.ground,
      letters: typeof letters === "boolean" ? letters : usual.letters,
    }
  } catch {
    return usual
  }
}

view.subscribe(({ ground, letters }, before) => {
  if (ground === before.ground && letters === before.letters) return
  try {
    localStorage.setItem(KEPT, JSON.stringify({ ground, letters }))
  } catch {
    // it is a matter of taste only
  }
})

/** What was told once goes with the next thing that is done. */
view.subscribe((now, before) => {
  if (now.said === undefined || now.said !== before.said) return
  const isElse = (Object.keys(now) as (keyof ViewState)[]).some(one => one !== "said" && now[one] !== before[one])
  if (isElse) view.setState({ said: undefined })
})
