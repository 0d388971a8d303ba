/** Ways to count so far, by the place they have come to: weights and ticks gone, in arrays that are used again. */
const FIRST_ROOM = 64

export class Ways {
  count = 0
  places = new Int32Array(FIRST_ROOM)
  weights = new Float64Array(FIRST_ROOM)
  /** Ticks of the heaviest way to each place, and how heavy that one is. */
  gone = new Float64Array(FIRST_ROOM)
  private best = new Float64Array(FIRST_ROOM)

  clear(): void {
    this.count = 0
  }

  add(place: number, weight: number, gone: number): void {
    if (this.count === this.places.length) this.grow()
    const at = this.count++
    this.places[at] = place
    this.weights[at] = weight
    this.best[at] = weight
    this.gone[at] = gone
  }

  /** Another way to the place that stands at `at`. */
  raise(at: number, weight: number, gone: number): void {
    this.weights[at]! += weight
    if (weight <= this.best[at]!) return
    this.best[at] = weight
    this.gone[at] = gone
  }

  most(): number {
    let most = 0
    for (let i = 0; i < this.count; i++) if (this.weights[i]! > most) most = this.weights[i]!
    return most
  }

  /** Ticks gone on the heaviest way of all. */
  heaviest(): number {
    let at = 0
    for (let i = 1; i < this.count; i++) if (this.weights[i]! > this.weights[at]!) at = i
    return this.count > 0 ? this.gone[at]! : 0
  }

  /** The weight at a rank, the heaviest being 0. */
  weightAt(rank: number): number {
    return this.weights.slice(0, this.count).sort()[this.count - 1 - rank] ?? 0
  }

  private grow(): void {
    this.places = wider(this.places, new Int32Array(2 * this.places.length))
    this.weights = wider(this.weights, new Float64Array(2 * this.weights.length))
    this.gone = wider(this.gone, new Float64Array(2 * this.gone.length))
    this.best = wider(this.best, new Float64Array(2 * this.best.length))
  }
}

function wider<A extends Int32Array | Float64Array>(old: A, room: A): A {
  room.set(old)
  return room
}
