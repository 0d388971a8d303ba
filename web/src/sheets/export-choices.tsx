/** What can be chosen of the files of a group: what matters most first, the finer things behind a word. */
import {
  BOOK_PARTS,
  CONVENTIONS,
  FIGURE_KINDS,
  FIGURE_SIZES,
  figureKind,
  HOUSE_STYLES,
  THEMES,
  type BookPart,
} from "@resolutio/core"
import type { ReactNode } from "react"
import { useReading } from "../app.js"
import type { Choices, GroupName } from "../export/offered.js"
import { Choice, Count, Text, Ticks } from "../parts/choosing.js"
import { exportWords } from "../words/export.js"

const said = exportWords

interface Asked {
  readonly choices: Choices
  readonly set: (more: Partial<Choices>) => void
}

export function ExportChoices({ group, ...asked }: Asked & { readonly group: GroupName }): ReactNode {
  const First = FIRST[group]
  const Finer = FINER[group]
  return (
    <>
      {First && (
        <div className="choices-of-files">
          <First {...asked} />
        </div>
      )}
      {Finer && (
        <details className="finer-of-files">
          <summary>{said.finer[group]}</summary>
          <div className="choices-of-files">
            <Finer {...asked} />
          </div>
        </details>
      )}
    </>
  )
}

/** As they are called on the command line, in words. */
const named = (all: readonly { readonly name: string }[]) =>
  all.map(({ name }) => [name, name.replaceAll("-", " ")] as const)

/** A choice among words that the language has for it. */
function One({ of, choices, set }: Asked & { readonly of: keyof typeof said.one }) {
  return (
    <Choice
      name={said.choices[of]}
      value={choices[of]}
      values={Object.entries(said.one[of])}
      set={to => set({ [of]: to })}
    />
  )
}

type Truths = { [K in keyof Choices]: Choices[K] extends boolean ? K : never }[keyof Choices]
function Whether({ of, choices, set }: Asked & { readonly of: Truths & keyof typeof said.choices }) {
  return (
    <label className="tick">
      <input type="checkbox" checked={choices[of]} onChange={({ target }) => set({ [of]: target.checked })} />
      {said.choices[of]}
    </label>
  )
}

type Lines = "headline" | "signs" | "levels" | "editor" | "clefs"
function Line({ of, choices, set }: Asked & { readonly of: Lines }) {
  return (
    <Text name={said.choices[of]} value={choices[of]} example={said.examples[of]} set={text => set({ [of]: text })} />
  )
}

type Numbers = "width" | "height" | "space" | "times" | "doubt"
const BOUNDS: Readonly<Record<Numbers, readonly [from: number, to: number, step: number]>> = {
  width: [200, 20_000, 1],
  height: [300, 20_000, 1],
  space: [4, 60, 1],
  times: [1, 1000, 1],
  doubt: [0, 1, 0.05],
}
function Amount({ of, usual, choices, set }: Asked & { readonly of: Numbers; readonly usual?: string }) {
  const [from, to, step] = BOUNDS[of]
  return (
    <Count
      name={said.choices[of]}
      value={choices[of]}
      {...{ from, to, step, ...(usual === undefined ? {} : { usual }) }}
      set={value => set({ [of]: value })}
    />
  )
}

/** Only these voices; of none chosen all. */
function WhichVoices({ choices, set }: Asked) {
  const voices = useReading(({ page }) => page.voices)
  return (
    <Ticks
      name={said.choices.voices}
      values={voices.map(({ n, label }) => [n, label || n])}
      chosen={choices.voices}
      set={chosen => set({ voices: chosen })}
    />
  )
}

const FIRST: Readonly<Partial<Record<GroupName, (asked: Asked) => ReactNode>>> = {
  page: ({ choices, set }) => (
    <Choice name={said.choices.theme} value={choices.theme} values={named(THEMES)} set={theme => set({ theme })} />
  ),
  score: asked => (
    <>
      <Choice
        name={said.choices.style}
        value={asked.choices.style}
        values={named(HOUSE_STYLES)}
        set={style => asked.set({ style })}
      />
      <One of="paper" {...asked} />
    </>
  ),
  sound: asked => <One of="files" {...asked} />,
  figures: ({ choices, set }) => (
    <>
      <Choice
        name={said.choices.figure}
        value={choices.figure}
        values={FIGURE_KINDS.map(({ name, shows }) => [name, shows] as const)}
        set={figure => set({ figure })}
      />
      <Choice name={said.choices.size} value={choices.size} values={named(FIGURE_SIZES)} set={size => set({ size })} />
    </>
  ),
}

/** How the piece is read for all of these files. */
export function ReadingChoices(asked: Asked) {
  return (
    <details className="finer-of-files">
      <summary>{said.read}</summary>
      <div className="choices-of-files">
        <Whether of="ignoreGiven" {...asked} />
        <Whether of="alone" {...asked} />
      </div>
    </details>
  )
}

const FINER: Readonly<Partial<Record<GroupName, (asked: Asked) => ReactNode>>> = {
  whole: asked => (
    <>
      <One of="views" {...asked} />
      <Whether of="silent" {...asked} />
    </>
  ),
  page: asked => (
    <>
      <One of="set" {...asked} />
      <One of="spacing" {...asked} />
      <One of="lines" {...asked} />
      <One of="staff" {...asked} />
      <Amount of="width" usual={said.usual} {...asked} />
      <Amount of="space" usual={said.usual} {...asked} />
      <Whether of="outlines" {...asked} />
      <WhichVoices {...asked} />
    </>
  ),
  time: asked => (
    <>
      <Whether of="compact" {...asked} />
      <Whether of="words" {...asked} />
      <Whether of="passage" {...asked} />
      <Amount of="width" usual={said.usual} {...asked} />
      <Amount of="height" usual={said.usual} {...asked} />
      <Whether of="outlines" {...asked} />
    </>
  ),
  score: Edition,
  findings: asked => (
    <>
      <Amount of="doubt" {...asked} />
      <WhichVoices {...asked} />
    </>
  ),
  sound: asked => (
    <>
      <Whether of="passage" {...asked} />
      <Amount of="times" {...asked} />
      <Whether of="balance" {...asked} />
    </>
  ),
  figures: asked => (
    <>
      <Line of="headline" {...asked} />
      <One of="caption" {...asked} />
      {figureKind(asked.choices.figure)?.ofPiece ? (
        <WhichVoices {...asked} />
      ) : (
        <>
          <Line of="signs" {...asked} />
          <Line of="levels" {...asked} />
        </>
      )}
      <Whether of="outlines" {...asked} />
    </>
  ),
}

const REDUCTIONS = ["1", "2", "4", "8", "16", "32"]

/** What the book holds, and every convention before that of the style. */
function Edition(asked: Asked) {
  const { choices, set } = asked
  return (
    <>
      <Ticks
        name={said.choices.contents}
        values={BOOK_PARTS.map(part => [part, said.bookParts[part]])}
        chosen={choices.contents}
        set={contents => set({ contents: contents as readonly BookPart[] })}
      />
      <Line of="editor" {...asked} />
      <Amount of="doubt" {...asked} />
      <Whether of="prefatory" {...asked} />
      <One of="repeats" {...asked} />
      <Choice
        name={said.choices.reduction}
        value={choices.reduction === undefined ? "" : String(choices.reduction)}
        values={[["", said.byPractice], ...REDUCTIONS.map(one => [one, said.reduced(Number(one))] as const)]}
        set={to => set({ reduction: to === "" ? undefined : Number(to) })}
      />
      <Line of="clefs" {...asked} />
      {CONVENTIONS.map(({ name, about, choices: all }) => (
        <Choice
          key={name}
          name={about}
          value={choices.conventions[name] ?? ""}
          values={[["", said.byStyle], ...all.map(({ value, short }) => [value, short] as const)]}
          set={to => {
            const { [name]: _, ...others } = choices.conventions
            set({ conventions: to === "" ? others : { ...others, [name]: to } })
          }}
        />
      ))}
    </>
  )
}
