/* Finding one's name, and one part of the page at a time. */

/* Letters that Unicode does not take apart, as people look for them. */
const STROKED = { ł: "l", ø: "o", đ: "d", ð: "d", ħ: "h", ŧ: "t", ı: "i", æ: "ae", œ: "oe", þ: "th" };

function plain(text) {
  const letters = text.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase();
  return letters.replace(/[łøđðħŧıæœþ]/g, (letter) => STROKED[letter]);
}

function filterNames() {
  const wanted = plain($("find").value.trim());
  const found = [...document.querySelectorAll("details.who")].filter((who) => {
    const fits = plain(who.querySelector("summary").textContent).includes(wanted);
    who.hidden = !fits;
    return fits;
  });
  $("found").textContent = wanted ? foundText(found.length) : "";
  if (wanted && found.length === 1) found[0].open = true;
}

function foundText(count) {
  if (!count) return "Nobody of that name. Try fewer letters.";
  return count === 1 ? "1 name" : `${count} names`;
}

function showPart() {
  const id = decodeURIComponent(location.hash.slice(1));
  const target = (id && $(id)) || $("me");
  const part = target.closest("section.part") || $("me");
  for (const other of document.querySelectorAll("section.part")) {
    other.classList.toggle("on", other === part);
  }
  for (const link of document.querySelectorAll("nav a")) {
    const here = link.hash === `#${part.id}`;
    if (here) link.setAttribute("aria-current", "page");
    else link.removeAttribute("aria-current");
  }
  if (target.matches("details.who")) target.open = true;
  if (target !== part) target.scrollIntoView();
  else if (id) window.scrollTo(0, document.querySelector("header").offsetHeight);
}

function remember(event) {
  const who = event.target;
  if (!who.matches("details.who") || !who.open || opened.includes(who)) return;
  store.write("me", who.id);
}

function showRemembered() {
  const id = store.read("me");
  const who = id && $(id);
  if (!who) return;
  who.open = true;
  who.parentNode.prepend(who);
}

/* On paper everybody shown is opened; afterwards all is as it was. */
let opened = [];

function openAll() {
  const closed = "details.who:not([open]):not([hidden])";
  opened = [...document.querySelectorAll(closed)];
  for (const who of opened) who.open = true;
}

function closeAgain() {
  for (const who of opened) who.open = false;
  opened = [];
}

function printAll() {
  document.documentElement.classList.add("all");
  window.print();
  document.documentElement.classList.remove("all");
}

function startFinding() {
  $("find").addEventListener("input", filterNames);
  document.addEventListener("toggle", remember, true);
  window.addEventListener("hashchange", showPart);
  window.addEventListener("beforeprint", openAll);
  window.addEventListener("afterprint", closeAgain);
  $("print").addEventListener("click", () => window.print());
  $("print-all").addEventListener("click", printAll);
  showRemembered();
  showPart();
}
