/* The few words the rest is written in. Text only ever enters as text, never as markup. */

const $ = (id) => document.getElementById(id);

function make(name, attributes, ...children) {
  const element = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  element.append(...children);
  return element;
}
