import { AboutOpenings } from "./about-openings.js";
import { say } from "../words/words.js";

/** @typedef {import("../desk/types.js").Motif} Motif */
/** @typedef {import("../desk/types.js").Project} Project */
/** @typedef {Motif & {key: string, title: string, own: boolean}} ShownMotif  `key` names it while it stays what it is */

/** The key of a motif that the person is about to ring. */
export const NEW = "new";

/** Which openings belong together in the picture: as the person says, else as was found. */
export class Motifs {
  /** @param {import("./workroom.js").Workroom} room */
  constructor(room) {
    this.room = room;
    /** @type {AboutOpenings<readonly number[][]>} */
    this.finding = new AboutOpenings(room, (project, signal) => room.desk.motifs(project, signal));
    /** What `all` was made of, and what it came to. @type {{of: readonly unknown[], all: ShownMotif[]}} */
    this.kept = { of: [], all: [] };
  }

  get known() {
    return this.finding.known !== null;
  }

  /** @param {() => void} then  once they are known */
  seek(then) {
    return this.finding.seek(then);
  }

  /** The motifs by their first openings; each opening is in one once they are known. @returns {ShownMotif[]} */
  get all() {
    const of = [this.finding.known, this.room.project.motifs];
    if (of.some((value, at) => value !== this.kept.of[at])) this.kept = { of, all: this.#shown() };
    return this.kept.all;
  }

  /** As `with_decided` of `py/peekpaper/design/motifs/motifs.py` has them. */
  #shown() {
    const free = new Set((this.room.shapes?.openings ?? []).map(({ number }) => number));
    const own = this.room.project.motifs.map((motif, at) => ({ ...motif, key: `own ${at}`, own: true }));
    const found = (this.finding.known ?? []).map((openings) => ({ name: "", openings, key: `found ${openings[0]}`, own: false }));
    const shown = [...own, ...found].flatMap(({ openings, ...motif }) => {
      const left = openings.filter((number) => free.delete(number));
      return left.length > 0 ? [{ ...motif, openings: left }] : [];
    });
    const inOrder = shown.toSorted(({ openings: [one = 0] }, { openings: [other = 0] }) => one - other);
    return inOrder.map((motif, at) => ({ ...motif, title: motif.name || say("motifs.nameless", { number: at + 1 }) }));
  }

  /** @param {number} number  of an opening  @returns {readonly number[]} the openings of its motif, itself too */
  around(number) {
    return this.all.find(({ openings }) => openings.includes(number))?.openings ?? [number];
  }

  /** The motif that the person changes at the moment; an empty one while a new one is still to be ringed. */
  get held() {
    const { motif: key } = this.room.session.hand;
    return this.all.find((motif) => motif.key === key) ?? null;
  }

  /**
   * Takes openings into the motif in hand; those that all are in it go out.
   *
   * @param {readonly number[]} numbers
   */
  turnOver(numbers) {
    const { held } = this;
    const now = new Set(held?.openings);
    const goOut = numbers.every((number) => now.has(number));
    for (const number of numbers) {
      if (goOut) now.delete(number);
      else now.add(number);
    }
    this.#change(held, { openings: [...now].sort((one, other) => one - other) });
  }

  /** @param {string} name  for the motif in hand */
  rename(name) {
    const { held } = this;
    if (held && held.name !== name) this.#change(held, { name });
  }

  /** Leaves the motif in hand to what is found. */
  forget() {
    const { held } = this;
    if (!held?.own) return;
    const { [Number(held.key.slice(4))]: gone } = this.room.project.motifs;
    this.room.session.take({ motif: null });
    this.room.store.edit("", (project) => ({ ...project, motifs: project.motifs.filter((each) => each !== gone) }));
  }

  /**
   * Makes the motif in hand the person's own, changed.
   *
   * @param {ShownMotif | null} held
   * @param {Partial<Motif>} change
   */
  #change(held, change) {
    const { motifs } = this.room.project;
    const at = held?.own ? Number(held.key.slice(4)) : motifs.length;
    const changed = { name: held?.name ?? "", openings: [...(held?.openings ?? [])], ...change };
    const taken = new Set(changed.openings);
    const others = motifs.map((each) => without(each, taken));
    const after = [...others.slice(0, at), changed, ...others.slice(at + 1)];
    const kept = after.filter(({ openings }) => openings.length > 0);
    const place = kept.indexOf(changed);
    this.room.store.edit("", (project) => ({ ...project, motifs: kept }));
    this.room.session.take({ motif: place < 0 ? NEW : `own ${place}` });
  }

  /** The pairs of openings of the motif in hand that a bar lies between. @returns {[number, number][]} */
  get #pairs() {
    const own = new Set(this.held?.openings);
    const bars = this.room.bench.design?.bars ?? [];
    const pairs = new Map();
    for (const { first, second } of bars) {
      if (second === null || first === second || !own.has(first) || !own.has(second)) continue;
      const pair = [Math.min(first, second), Math.max(first, second)];
      pairs.set(pair.join(), pair);
    }
    return [...pairs.values()];
  }

  /** Whether one piece is asked for behind the motif in hand; null where it has no two openings side by side. */
  get isOnePiece() {
    const pairs = this.#pairs;
    const joined = new Set(this.room.project.backing.joined.map((pair) => pair.join()));
    return pairs.length === 0 ? null : pairs.every((pair) => joined.has(pair.join()));
  }

  /** @param {boolean} together  whether one piece backs all of the motif in hand */
  share(together) {
    const pairs = this.#pairs;
    const own = new Set(pairs.map((pair) => pair.join()));
    const others = (/** @type {[number, number][]} */ all) => all.filter((pair) => !own.has(pair.join()));
    this.room.store.edit("", (project) => {
      const { joined, split } = project.backing;
      const backing = { ...project.backing, joined: [...others(joined), ...(together ? pairs : [])], split: others(split) };
      return { ...project, backing };
    });
  }
}

/**
 * @param {Motif} motif
 * @param {ReadonlySet<number>} taken
 * @returns {Motif}
 */
function without(motif, taken) {
  const openings = motif.openings.filter((number) => !taken.has(number));
  return openings.length === motif.openings.length ? motif : { ...motif, openings };
}
