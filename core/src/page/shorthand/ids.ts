/**
 * Ids for signs that are written without one: number of the voice, point, running number ("1.12"), a ligature counted
 * before its members. An id that is written out and has this form moves the count, so that after an edit only the
 * sign next to it needs its id written. Reader and printer both ask an IdCounter, and so agree.
 */
export class IdCounter {
  private next = 1
  private highest = 0

  /** `taken`: ids used so far anywhere on the page; ids given here are added to it. */
  constructor(
    private readonly prefix: string,
    private readonly taken: Set<string>,
  ) {}

  /** The id that the next sign has if none is written. */
  expected(): string {
    const id = this.named(this.next)
    if (!this.taken.has(id)) return id
    // Above all numbers used, not the next free one, which would have to be looked for again and again.
    while (this.taken.has(this.named(this.highest + 1))) this.highest++
    return this.named(this.highest + 1)
  }

  /** Gives the next sign this id. False, and nothing happens, when it is taken. */
  use(id: string): boolean {
    if (this.taken.has(id)) return false
    this.taken.add(id)
    const number = id.startsWith(`${this.prefix}.`) ? Number(id.slice(this.prefix.length + 1)) : NaN
    const counted = Number.isSafeInteger(number) && number > 0 && this.named(number) === id
    this.next = counted ? number + 1 : this.next + 1
    if (counted) this.highest = Math.max(this.highest, number)
    return true
  }

  private named(number: number): string {
    return `${this.prefix}.${number}`
  }
}
