/* A set, point by point, looked up in the tables that came with the page.

   Nothing here knows a rule of the game. Teams are 0 (A) and 1 (B), people 0 to 3
   (0 and 1 are team A), ends 0 (near) and 1 (far), halves 0 (deuce) and 1 (ad).
   A set is its setup and the taps so far: "0" or "1" for who won the point, "x" or
   "y" for who won the rest of the game, "d" or "a" for the half the receivers chose. */

const TO_CHOOSE = 2;

function lookAt(table, row) {
  const [turn, half, serverEnd, firstEnd, changes, fresh, tieBreak, open, points, call] =
    table.looks[table.rows[3 * row + 2]];
  return { turn, half, serverEnd, firstEnd, changes, fresh, tieBreak, open, points, call };
}

function firstSetup(match) {
  return setupFrom(0, match.order, match.deuce, 0);
}

function setupFrom(format, queue, deuce, end) {
  const order = [0, 1].map((team) => queue.filter((seat) => seat >> 1 === team));
  return { format, first: queue[0] >> 1, order, deuce, end };
}

function queueOf({ first, order }) {
  const [ours, theirs] = [order[first], order[1 - first]];
  return [ours[0], theirs[0], ours[1], theirs[1]];
}

function walk(formats, setup, taps) {
  const table = formats[setup.format];
  const score = {
    row: 0, games: [0, 0], points: [0, 0], counted: true, half: null, moved: false, over: null,
  };
  for (const tap of taps) step(table, setup, score, tap);
  score.look = lookAt(table, score.row);
  return score;
}

function step(table, setup, score, tap) {
  if (tap === "d" || tap === "a") {
    score.half = tap === "d" ? 0 : 1;
    score.moved = false;
  } else if (tap === "x" || tap === "y") {
    playGame(table, setup, score, tap === "x" ? 0 : 1);
  } else {
    playPoint(table, setup, score, Number(tap));
  }
}

function playGame(table, setup, score, team) {
  const before = lookAt(table, score.row);
  const games = score.games[0] + score.games[1];
  while (score.games[0] + score.games[1] === games) playPoint(table, setup, score, team);
  if (before.tieBreak) score.counted = false;
}

function playPoint(table, setup, score, team) {
  const before = lookAt(table, score.row);
  const next = table.rows[3 * score.row + (team ^ setup.first)];
  score.half = null;
  score.points[team] += 1;
  if (next < 0) {
    finish(table, score, team, before, table.overs[-1 - next]);
    return;
  }
  score.row = next;
  const after = lookAt(table, next);
  score.moved = after.firstEnd !== before.firstEnd;
  if (after.fresh) {
    score.games[team] += 1;
    score.points = [0, 0];
  }
}

function finish(table, score, team, before, [, first, end, ...queue]) {
  score.games[team] += 1;
  score.moved = (first ? 1 - end : end) !== before.firstEnd;
  score.over = { winner: team, first, end, queue, tieBreak: Boolean(before.tieBreak) };
}

/* The point about to be played; half and receiver are null while the receivers choose. */
function serveOf(match, setup, score) {
  const server = queueOf(setup)[score.look.turn];
  const receivers = 1 - (server >> 1);
  const onDeuce = setup.deuce[receivers];
  let half = score.look.half;
  let fixed = half !== TO_CHOOSE;
  if (!fixed && match.mixed) {
    half = match.mixed[server][onDeuce & 1];
    fixed = true;
  }
  if (!fixed) half = score.half;
  const receiver = half === null ? null : receiverIn(setup, receivers, half);
  return { server, receivers, half, receiver, fixed, end: setup.end ^ score.look.serverEnd };
}

function receiverIn(setup, team, half) {
  return half === 0 ? setup.deuce[team] : setup.deuce[team] ^ 1;
}

function nextSetup(setup, over, format) {
  const queue = queueOf(setup);
  const going = over.queue.map((place) => queue[place]);
  return setupFrom(format, going, setup.deuce, setup.end ^ over.end);
}

/* A set as it is written in a score line, or "" before its first point. */
function written(formats, { setup, taps }) {
  const score = walk(formats, setup, taps);
  const format = formats[setup.format];
  if (!taps) return "";
  if (format.points) return score.points.join("-");
  const lost = score.over && score.over.tieBreak && score.counted;
  return score.games.join("-") + (lost ? `(${Math.min(...score.points)})` : "");
}

/* All sets of a match and how it was cut short, each after a blank; "" before the first point. */
function scoresOf(data, { sets, mark }) {
  const begun = sets.filter(({ taps }) => taps);
  if (!begun.length) return "";
  const last = begun[begun.length - 1];
  const going = !walk(data.formats, last.setup, last.taps).over;
  const cut = going && !data.formats[last.setup.format].timed;
  const end = mark || (cut ? data.marks[0] : "");
  const scores = begun.map((set) => written(data.formats, set));
  return [...scores, end].filter(Boolean).map((word) => ` ${word}`).join("");
}
