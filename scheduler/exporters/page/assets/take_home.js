/* What the coach types stays in this browser until it is printed, under the plan's id. */

const name = `rota ${data.plan} work`;
const boxes = [...document.querySelectorAll("textarea")];

function recall() {
  try {
    const kept = JSON.parse(localStorage.getItem(name)) || {};
    for (const box of boxes) box.value = kept[box.id] || "";
  } catch {
    $("lost").textContent = "This browser does not keep what is typed: print before closing.";
  }
}

function keep() {
  const kept = Object.fromEntries(boxes.filter((box) => box.value).map((box) => [box.id, box.value]));
  try {
    localStorage.setItem(name, JSON.stringify(kept));
  } catch {
    $("lost").textContent = "This browser does not keep what is typed: print before closing.";
  }
}

for (const box of boxes) box.addEventListener("input", keep);
$("print").addEventListener("click", () => window.print());
recall();
