return {
  cmd = { "haunch", "lsp" },
  filetypes = { "haunch" },
  root_markers = { ".git" },
  -- The server offers pages about its findings to those who can show them: `plugin` does.
  before_init = function(params)
    local own = { haunch = { pages = true } }
    params.capabilities.experimental = vim.tbl_extend("force", params.capabilities.experimental or {}, own)
  end,
}
