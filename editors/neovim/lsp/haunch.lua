return {
  cmd = { "haunch", "lsp" },
  filetypes = { "haunch" },
  root_markers = { ".git" },
}
