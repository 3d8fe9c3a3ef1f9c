vim.filetype.add({ extension = { haunch = "haunch" } })
