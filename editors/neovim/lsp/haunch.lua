-- Neovim draws hints once for each version of a buffer. When a value of another file changes, the version stays, and the
-- hints that it asks for again would not be drawn over the old ones; so the old ones are taken away first.
local function renew_hints(_, _, context)
  local client = vim.lsp.get_client_by_id(context.client_id)
  for buffer in pairs(client and client.attached_buffers or {}) do
    if vim.lsp.inlay_hint.is_enabled({ bufnr = buffer }) then
      vim.lsp.inlay_hint.enable(false, { bufnr = buffer })
      vim.lsp.inlay_hint.enable(true, { bufnr = buffer })
    end
  end
  return vim.NIL
end

return {
  cmd = { "haunch", "lsp" },
  filetypes = { "haunch" },
  root_markers = { ".git" },
  handlers = { ["workspace/inlayHint/refresh"] = renew_hints },
  -- The server offers pages about its findings to those who can show them: `plugin` does.
  before_init = function(params)
    local own = { haunch = { pages = true } }
    params.capabilities.experimental = vim.tbl_extend("force", params.capabilities.experimental or {}, own)
  end,
}
