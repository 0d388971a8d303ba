import { useApp } from "../../app.js"
import { useAnswer } from "../../parts/use-answer.js"
import type { CandidateTold, EvidenceTold, MeasureOfVoice } from "../../reading/told-chapters.js"
import { lookAt } from "../../view/view.js"
import { chapterWords } from "../../words/chapters.js"

const said = chapterWords.measure

/** What the notes say of their measure: what was found, and what speaks for and against it. */
export function MeasureChapter() {
  const { readings, documents } = useApp()
  const { answer } = useAnswer(() => readings.measure())
  if (!answer) return <p className="quiet">{said.looking}</p>
  const { supply } = answer
  return (
    <div className="measure">
      {answer.voices.map(voice => (
        <OfVoice key={voice.voice} voice={voice} />
      ))}
      <div className="fits">
        {answer.fits.map(fit => (
          <p key={fit}>{fit}</p>
        ))}
      </div>
      {supply && (
        <button type="button" className="act framed" onClick={() => documents.act(supply, said.written)}>
          {said.write}
        </button>
      )}
    </div>
  )
}

function OfVoice({ voice }: { readonly voice: MeasureOfVoice }) {
  const { label, practice, given, doubt, words: measure, candidates, changes, problems } = voice
  const how = given ? said.given : said.found(said.chance(1 - doubt / 2))
  return (
    <section className="measured" aria-label={label}>
      <h3 className="sentence">
        <b className="voice-name">{label}</b> {measure === "" ? said.none : `${measure} (${how})`}
      </h3>
      <p className="quiet">{said.readBy(practice)}</p>
      {candidates.length > 1 && candidates.map((one, i) => <Tried key={one.words} candidate={one} isFirst={i === 0} />)}
      {changes.map(({ what, sign }) => (
        <p key={what}>
          {said.change}{" "}
          <button type="button" className="line-act inline" onClick={() => lookAt(sign)}>
            {what}
          </button>
        </p>
      ))}
      {problems.map(what => (
        <p key={what}>{what}</p>
      ))}
    </section>
  )
}

function Tried({ candidate, isFirst }: { readonly candidate: CandidateTold; readonly isFirst: boolean }) {
  const { words: measure, chance, shared, asLongAs, evidence } = candidate
  return (
    <div className="tried">
      <p>
        <b>{measure}</b>: {said.chance(chance)}
        {isFirst && shared - chance >= 0.005 && `, ${said.together(said.chance(shared))}`}
        {asLongAs && `; ${said.asLongAs(asLongAs)}`}
      </p>
      <ul>
        {evidence.map((one, i) => (
          <EvidenceLine key={i} evidence={one} />
        ))}
      </ul>
    </div>
  )
}

function EvidenceLine({ evidence }: { readonly evidence: EvidenceTold }) {
  const { what, weight, signs } = evidence
  const [first] = signs
  return (
    <li className="evidence">
      <span className="quiet">{weight >= 0 ? said.for : said.against}</span>
      {first === undefined ? (
        <span>{what}</span>
      ) : (
        <button type="button" className="line-act" title={said.show} onClick={() => lookAt(first)}>
          {what}
        </button>
      )}
    </li>
  )
}
