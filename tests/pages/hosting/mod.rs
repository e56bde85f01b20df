//! How pages get the element, and what they do to it.

pub mod asleep;
pub mod baked_site;
pub mod baking;
pub mod embedding;
pub mod guide;
pub mod hosts;
pub mod life;
pub mod loading;
pub mod modules;
pub mod plain;
pub mod rooms;
pub mod takeover;

use crate::harness::File;

pub const FILES: &[File] = &[
    ("embedding", embedding::CASES),
    ("takeover", takeover::CASES),
    ("asleep", asleep::CASES),
    ("baked_site", baked_site::CASES),
    ("plain", plain::CASES),
    ("loading", loading::CASES),
    ("modules", modules::CASES),
    ("life", life::CASES),
    ("hosts", hosts::CASES),
    ("guide", guide::CASES),
    ("rooms", rooms::CASES),
];
