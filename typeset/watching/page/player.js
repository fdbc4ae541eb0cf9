// Playing along: what sounds and where the mark is both follow one clock, that of the sound.

import { Drums } from "./drums.js";

const AHEAD = 0.3; // seconds that sounds are handed over before their time
const AHEAD_HIDDEN = 1.5; // where a browser lets a page that is not seen do things once a second
const GRACE = 0.1; // seconds that grace strokes may come before the round that they belong to
const LOOK = 25; // milliseconds between two looks at the clock
const START = 0.12;

export class Player {
  constructor(act) {
    this.act = act; // mark(place) at every picture of the screen, ended() when it is over
    this.id = null;
    this.turn = 0; // counts what was asked for, so that an answer that comes late is known
    this.click = this.loop = this.countIn = true;
    this.share = 0.7;
  }

  get isPlaying() {
    return this.id !== null;
  }

  set volume(share) {
    this.share = share;
    if (this.drums) this.drums.volume = share;
  }

  // Fetch how an exercise is played at a tempo; null where there is none of that name any more.
  async plan(id, tempo) {
    try {
      const answer = await fetch(`play.json?${new URLSearchParams({ exercise: id, tempo })}`);
      return answer.ok ? await answer.json() : null;
    } catch {
      return null;
    }
  }

  async start(id, tempo) {
    this.stop();
    const turn = ++this.turn;
    this.stretches = null;
    this.context ??= new AudioContext({ latencyHint: "interactive" });
    this.drums ??= new Drums(this.context);
    this.drums.volume = this.share;
    this.id = id;
    await this.context.resume();
    const plan = await this.plan(id, tempo);
    if (this.turn !== turn) return;
    if (!plan) {
      this.stop();
      return;
    }
    this.follow(plan);
    this.stretches = [];
    this.waiting = [];
    this.rounds = 0;
    this.handedOver = 0;
    this.ends = null;
    this.next = this.context.currentTime + START;
    this.add(this.countIn ? "countIn" : "pickup");
    this.timer = setInterval(() => this.tick(), LOOK);
    this.tick();
    this.draw();
  }

  stop() {
    if (!this.isPlaying) return;
    this.turn += 1;
    this.id = null;
    clearInterval(this.timer);
    cancelAnimationFrame(this.frame);
    this.drums.hush();
    this.act.ended();
  }

  follow(plan) {
    this.now = plan;
    this.places = plan.systems.flatMap((system) => system.slots.map((x, index) => ({ system, x, before: system.slots[index - 1] })));
  }

  // Go on from the same place of the music at another tempo, or with music that has changed.
  async change(tempo) {
    const id = this.id;
    if (id === null) return;
    const turn = this.stretches ? ++this.turn : this.turn; // the first plan of all is still waited for
    const plan = await this.plan(id, tempo);
    if (this.turn !== turn || !this.stretches) return;
    if (!plan) {
      this.stop();
      return;
    }
    const time = this.context.currentTime;
    const at = Math.max(0, this.stretches.findLastIndex((one) => one.start <= time));
    const { start, lasts, kind } = this.stretches[at];
    const share = lasts ? Math.min(1, Math.max(0, (time - start) / lasts)) : 0;
    this.follow(plan);
    this.rounds -= this.stretches.slice(at).filter((one) => one.kind === "round").length;
    this.stretches.length = at;
    this.waiting = [];
    this.next = Math.max(start, time - share * plan[kind].lasts);
    this.add(kind);
    this.waiting = this.waiting.filter((one) => one.time > this.handedOver);
    this.tick();
  }

  // Put the count-in, the pickup or a round behind what there is.
  add(kind) {
    const start = this.next;
    const stretch = this.now[kind];
    this.stretches.push({ start, lasts: stretch.lasts, reached: stretch.reached, kind, round: this.rounds });
    const soon = (voice) => ([time, key, velocity]) => ({ time: start + time, key, velocity, voice });
    this.waiting.push(...stretch.drums.map(soon("drum")), ...stretch.clicks.map(soon(kind === "countIn" ? "count" : "click")));
    this.waiting.sort((one, other) => one.time - other.time);
    this.next = start + stretch.lasts;
    if (kind === "round") this.rounds += 1;
  }

  tick() {
    const time = this.context.currentTime;
    const until = time + (document.hidden ? AHEAD_HIDDEN : AHEAD);
    while (this.goesOn() && this.next - GRACE <= until) this.add("round");
    this.ends = this.goesOn() ? null : this.next;
    while (this.waiting.length && this.waiting[0].time <= until) {
      const { time: when, key, velocity, voice } = this.waiting.shift();
      if (voice !== "click" || this.click) this.drums.strike(key, Math.max(when, time), velocity);
    }
    this.handedOver = until;
    const heard = time - this.latency();
    while (this.stretches.length > 1 && this.stretches[1].start < heard - 1) this.stretches.shift();
    if (this.ends !== null && heard > this.ends) this.stop();
  }

  goesOn() {
    return this.loop || this.rounds < this.now.times;
  }

  // What is heard now was handed over so much earlier.
  latency() {
    return (this.context.outputLatency || 0) + (this.context.baseLatency || 0);
  }

  draw() {
    if (!this.isPlaying) return;
    this.act.mark(this.placeAt(this.context.currentTime - this.latency()));
    this.frame = requestAnimationFrame(() => this.draw());
  }

  // Where the music is at a time of the clock: between one slot and the next, at their share of the way.
  placeAt(time) {
    const at = Math.max(0, this.stretches.findLastIndex((one) => one.start <= time));
    const { start, lasts, reached, round } = this.stretches[at];
    const local = time - start;
    const index = reached.findLastIndex(([when]) => when <= local);
    if (index < 0) {
      const first = reached.length ? reached[0][1] : this.now.round.reached[0][1];
      return { ...this.places[first], slot: first, time: local, round, isWaiting: true };
    }
    const [when, slot] = reached[index];
    const [after, following] = reached[index + 1] ?? [lasts, this.stretches[at + 1]?.reached[0]?.[1] ?? null];
    const place = this.places[slot];
    const aim = this.places[following];
    const isNext = aim && aim.system === place.system && aim.x > place.x;
    const way = isNext ? aim.x - place.x : place.x - (place.before ?? place.x);
    const share = after > when ? Math.min(1, (local - when) / (after - when)) : 0;
    const still = matchMedia("(prefers-reduced-motion: reduce)").matches;
    return { system: place.system, x: place.x + (still ? 0 : share * way), slot, time: local, round, isWaiting: false };
  }
}
